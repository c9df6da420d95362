//! `person`: the people who sign in, or carry a phone.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result};
use bodies::{HubRole, PersonId};
use hubstore::{HubPerson, People};

use super::arguments::Person;
use super::opened::{Place, by, named};
use super::secret::new_secret;
use crate::Store;
use crate::chance;
use crate::changing::{PersonTo, can_be_called, change_person, write_down};
use crate::home::Hub;
use crate::names::{hex, unhex};
use crate::people::{Password, hash_password};

pub(super) async fn person(
    place: &Place,
    what: Person,
    name_of_by: Option<&str>,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let hub = place.hub().await?;
    let by = by(&hub, name_of_by).await?;
    let (name, to, told) = match what {
        Person::List => {
            list(&hub, out).await?;
            return Ok(ExitCode::SUCCESS);
        }
        Person::Add { name, role, password_file, no_sign_in, number } => {
            // Before a password is asked for.
            let role = read_role(&role)?;
            let id = PersonId(number.as_deref().map_or_else(|| Ok(chance::bytes()?), read_number)?);
            can_be_called(&hub.store, &name).await?;
            let secret =
                if no_sign_in { String::new() } else { new_password(password_file.as_deref()).await? };
            write_down(&hub, by, &HubPerson { id, name, secret, role }).await?;
            writeln!(out, "Written down. Enrol a phone for them with `headmark-hub enrol --person NAME`.")?;
            return Ok(ExitCode::SUCCESS);
        }
        Person::Rename { name, to } => {
            let told = "Renamed. Phones show the new name after they have sent the next time.";
            (name, PersonTo::Name(to), told)
        }
        Person::Role { name, role } => {
            (name, PersonTo::Role(read_role(&role)?), "They may do so from their next request on.")
        }
        Person::Password { name, none: true, .. } => {
            (name, PersonTo::NoSignIn, "They sign in no more, and are signed out everywhere.")
        }
        Person::Password { name, password_file, none: false } => {
            named(&hub, &name).await?;
            let secret = new_password(password_file.as_deref()).await?;
            (
                name,
                PersonTo::Password(secret),
                "They sign in with it from now on, and are signed out everywhere.",
            )
        }
        Person::Remove { name } => {
            let told = "The name is erased, and on every phone after it has sent the next time. Records go on naming the \
                        person's number.";
            (name, PersonTo::Erased, told)
        }
    };
    let person = named(&hub, &name).await?;
    let done = change_person(&hub, by, person.id, &to).await?;
    writeln!(out, "{}", if done.is_some() { told } else { "It is so already. Nothing was changed." })?;
    Ok(ExitCode::SUCCESS)
}

async fn list(hub: &Hub<Store>, out: &mut (dyn Write + Send)) -> Result<()> {
    for person in hub.store.persons().await? {
        let how = if person.secret.is_empty() { "does not sign in" } else { "signs in" };
        writeln!(out, "{}  {}  {how}  {}", hex(&person.id.0), person.role.word(), person.name)?;
    }
    Ok(())
}

async fn new_password(file: Option<&Path>) -> Result<String> {
    Ok(hash_password(Password::new(&new_secret("password", file)?)?).await?)
}

fn read_role(text: &str) -> Result<HubRole> {
    HubRole::from_word(text).context("The role is to be read, supervise or administer.")
}

fn read_number(text: &str) -> Result<[u8; 16]> {
    unhex(text).context(
        "A person's number is 32 small hexadecimal digits; `headmark-hub visits` shows those without a name.",
    )
}
