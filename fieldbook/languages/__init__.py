"""Languages: what the program says, in English and in Spanish.

The English text is the key. `es.po` is the one catalogue, a gettext text file sorted by its
English texts. `language_texts` reads it, `template` fills the blanks of a sentence and finds them
again, `translator` finds the Spanish of a text that is shown, and `in_use` holds the language of
the app. Start at `translator`.

Only what is shown is translated: the record, job files and the journal stay in English, and text
that a person entered stays as it was entered. The room imports nothing of the program. English
reads no catalogue, so that a start in English takes no time for it.
"""
