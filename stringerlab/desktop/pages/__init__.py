"""The pages of the window: each knows the session, none knows the window."""
