"""Item models between the session and the tables: they read what is shown and edit through the session."""
