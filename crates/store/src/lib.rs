//! SQLite file that keeps a register.
