//! How wide words are, and breaking them into lines, where nothing measures them for us.
