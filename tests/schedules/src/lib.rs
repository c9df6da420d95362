//! Schedules of what can happen between phones and a hub, drawn from seeds. All of it is in `tests/`.
//!
//! Apart from the suite: it needs phones and hub together, and is built and played by itself in long runs.
