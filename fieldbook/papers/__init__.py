"""What is read rather than typed into: pictures of boxes and of the controller's terminals."""
