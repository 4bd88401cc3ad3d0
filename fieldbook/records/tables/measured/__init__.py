"""What is measured on a finished system: start-ups and catch-can audits.

A file a subject, like the tables around it; no table knows another. Their sections are on the
service's sheet, and `checks/measured` reads them.
"""
