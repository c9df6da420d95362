//! `export`: records to files. What is chosen is read a page at a time and goes out as it is read: a hub's ledger is longer
//! than memory should hold, and than `verify` takes in one file.

mod chosen;
mod files;
mod needs;
mod run;

pub(super) use run::export;
