//! Check values from published sources.
