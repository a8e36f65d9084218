//! Sheets, waypoints, photos and load traces, in and out.
