//! From the command line to the command.

use std::io::Write;
use std::process::ExitCode;

use anyhow::Result;

use super::logging::{log_as_json, log_in_words};
use super::opened::Place;
use super::{
    Arguments, Command, adopt, backup, changes, enrol, export, import, init, key, person, phones, proposals,
    restore, review, revoke, serve, status, verify, visits,
};

/// Does what the command line says; `out` is what the person reads.
///
/// # Errors
///
/// What went wrong, in words that say what to do.
pub async fn run(arguments: Arguments, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let place = Place::of(&arguments);
    if matches!(arguments.command, Command::Serve(_)) {
        log_as_json()
    } else {
        log_in_words()
    }
    match arguments.command {
        Command::Init(init) => init::init(&place, &init, out).await,
        Command::Serve(serve) => serve::serve(&place, &serve, out).await,
        Command::Enrol(enrol) => enrol::enrol(&place, &enrol, out).await,
        Command::Import(import) => import::import(&place, &import, out).await,
        Command::Export(export) => export::export(&place, &export, out).await,
        Command::Verify { file, organisation } => verify::verify(&file, organisation.as_deref(), out),
        Command::Backup { to } => backup::backup(&place, &to, out).await,
        Command::Restore(restore) => restore::restore(&place, &restore, out).await,
        Command::Person { what, by } => person::person(&place, what, by.as_deref(), out).await,
        Command::Key(key) => key::key(&place, key, out).await,
        Command::Phones(asked) => phones::phones(&place, &asked, out).await,
        Command::Revoke(revoke) => revoke::revoke(&place, &revoke, out).await,
        Command::Adopt(adopt) => adopt::adopt(&place, &adopt, out).await,
        Command::Proposals { all } => proposals::proposals(&place, all, out).await,
        Command::Changes { most } => changes::changes(&place, most, out).await,
        Command::Visits(asked) => visits::visits(&place, &asked, out).await,
        Command::Review(asked) => review::review(&place, &asked, out).await,
        Command::Status => status::status(&place, out).await,
    }
}
