//! The commands of `headmark-hub`. Each says what it did and what to do next.

mod adopt;
mod arguments;
mod backup;
mod bundle;
mod changes;
mod enrol;
mod export;
mod import;
mod init;
mod key;
mod logging;
mod moments;
mod opened;
mod person;
mod phones;
mod photographs;
mod proposals;
mod restore;
mod review;
mod revoke;
mod run;
mod secret;
mod serve;
mod status;
mod verify;
mod visits;

pub use arguments::{Arguments, Command};
pub use run::run;
