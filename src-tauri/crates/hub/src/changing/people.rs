//! Who is written down at the hub, and as what.

use bodies::{ChangeMade, HubRole, PersonChange, PersonId};
use hubstore::{Changed, Error as StoreError, Follows, HubPerson, HubStore, People};
use record::{EntryId, Proof, Signer};

use super::entry::entry;
use crate::Error;
use crate::home::Hub;
use crate::saying::TRIES;

/// The most characters of a name.
const LONGEST: usize = 120;

/// What somebody who is written down is to be from then on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PersonTo {
    /// Called otherwise.
    Name(String),
    /// Somebody who may do something else.
    Role(HubRole),
    /// Somebody with another password, by its hash. All sign-ins end.
    Password(String),
    /// Somebody who does not sign in. All sign-ins end.
    NoSignIn,
    /// Nobody: the name is erased, and records go on naming the number. All sign-ins end.
    Erased,
}

impl PersonTo {
    fn of(&self, was: &HubPerson) -> (Option<HubPerson>, PersonChange) {
        let was = was.clone();
        match self {
            PersonTo::Name(name) => (Some(HubPerson { name: name.clone(), ..was }), PersonChange::Renamed),
            PersonTo::Role(role) => (Some(HubPerson { role: *role, ..was }), PersonChange::Role(*role)),
            PersonTo::Password(secret) => {
                (Some(HubPerson { secret: secret.clone(), ..was }), PersonChange::Password)
            }
            PersonTo::NoSignIn => (Some(HubPerson { secret: String::new(), ..was }), PersonChange::NoSignIn),
            PersonTo::Erased => (None, PersonChange::Erased),
        }
    }
}

/// Writes somebody down who is not.
///
/// # Errors
///
/// [`Error::Asked`] for a name that will not do, or a number that somebody has; what the store says.
pub async fn write_down<S, K, P>(
    hub: &Hub<S, K, P>,
    by: Option<PersonId>,
    person: &HubPerson,
) -> Result<EntryId, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    can_be_called(&hub.store, &person.name).await?;
    let made = PersonChange::Added { role: person.role, signs_in: !person.secret.is_empty() };
    for _ in 0..TRIES {
        if standing(hub, person.id).await?.is_some() {
            return Err(asked(
                "Somebody of this number is written down already. Give them another name with `headmark-hub person rename`.",
            ));
        }
        let change = Changed { was: None, is: Some(person.clone()) };
        if let Some(said) = say(hub, by, (person.id, made), change).await? {
            return Ok(said);
        }
    }
    Err(StoreError::Busy.into())
}

/// Changes what somebody is who is written down. Returns the entry; none where the person is so already.
///
/// # Errors
///
/// [`Error::Asked`] for a name that will not do, and for somebody who is not written down; what the store says.
pub async fn change_person<S, K, P>(
    hub: &Hub<S, K, P>,
    by: Option<PersonId>,
    person: PersonId,
    to: &PersonTo,
) -> Result<Option<EntryId>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    for _ in 0..TRIES {
        let was = standing(hub, person).await?;
        let was = was.ok_or_else(|| {
            asked("Nobody of this number is written down here. Take it from the list of people.")
        })?;
        let (is, made) = to.of(&was);
        if is.as_ref() == Some(&was) {
            return Ok(None);
        }
        if let PersonTo::Name(name) = to {
            can_be_called(&hub.store, name).await?;
        }
        if let Some(said) = say(hub, by, (person, made), Changed { was: Some(was), is }).await? {
            return Ok(Some(said));
        }
    }
    Err(StoreError::Busy.into())
}

/// Looks whether somebody can be called so.
///
/// # Errors
///
/// [`Error::Asked`] where not, with what to do; what the store says.
pub async fn can_be_called(store: &impl People, name: &str) -> Result<(), Error> {
    let fits = (1..=LONGEST).contains(&name.trim().chars().count()) && !name.chars().any(char::is_control);
    if !fits {
        return Err(asked("Write the name on one line, in up to 120 characters."));
    }
    match store.person_named(name).await? {
        None => Ok(()),
        Some(_) => Err(asked("Somebody of this name is written down already. Tell them apart.")),
    }
}

async fn standing<S, K, P>(hub: &Hub<S, K, P>, person: PersonId) -> Result<Option<HubPerson>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    Ok(hub.store.persons().await?.into_iter().find(|one| one.id == person))
}

/// Says a change and does it, once; none where another process was first.
async fn say<S, K, P>(
    hub: &Hub<S, K, P>,
    by: Option<PersonId>,
    (person, made): (PersonId, PersonChange),
    change: Changed<Option<HubPerson>>,
) -> Result<Option<EntryId>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let said = [entry(by, ChangeMade::Person(person, made))?];
    let follows = Follows { people: vec![change], ..Follows::default() };
    let said = hub.say_once(&said, follows).await?;
    Ok(said.and_then(|said| said.first().copied()))
}

fn asked(text: &str) -> Error {
    Error::Asked(text.to_owned())
}
