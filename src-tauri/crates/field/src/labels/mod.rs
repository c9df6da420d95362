//! Labels for instruments: choosing them, looking at them, and the file to print.

mod making;
mod offered;
mod printing;
