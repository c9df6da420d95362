//! Signing in: a secret in a cookie, a second one for changes, both gone after half a day.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use hubstore::{HubPerson, HubStore, Moment, Purpose, Token};
use sha2::{Digest, Sha256};

use super::{Password, is_password};
use crate::Error;

/// How long a sign-in lasts.
pub const SIGNED_IN_SECONDS: i64 = 12 * 60 * 60;

/// A person who has just signed in.
#[derive(Debug, Clone)]
pub struct SignedIn {
    /// Who.
    pub person: HubPerson,
    /// The secret for the cookie.
    pub cookie: String,
    /// The secret that goes with every change, in a header that a foreign page cannot set.
    pub csrf: String,
}

/// Signs somebody in; none where name and password do not belong together. `secret` are 32 random bytes.
///
/// # Errors
///
/// What the store says.
pub async fn sign_in(
    store: &impl HubStore,
    name: &str,
    password: Password,
    secret: [u8; 32],
    now: Moment,
) -> Result<Option<SignedIn>, Error> {
    let person = store.person_named(name).await?;
    let kept = person.as_ref().map(|person| person.secret.clone());
    if !is_password(password, kept).await? {
        return Ok(None);
    }
    let Some(person) = person else { return Ok(None) };
    let token = Token {
        purpose: Purpose::SignIn,
        hash: Sha256::digest(secret).into(),
        holder: person.id.0.to_vec(),
        content: Vec::new(),
        expires: Moment(now.0.saturating_add(SIGNED_IN_SECONDS * 1000)),
    };
    store.put_token(&token).await?;
    let cookie = URL_SAFE_NO_PAD.encode(secret);
    let csrf = csrf_of(&cookie);
    Ok(Some(SignedIn { person, cookie, csrf }))
}

/// Returns the second secret of a sign-in. It follows from the first one, so that nothing more has to be kept.
#[must_use]
pub fn csrf_of(cookie: &str) -> String {
    let hash = Sha256::new().chain_update(b"headmark/csrf/1").chain_update(cookie).finalize();
    URL_SAFE_NO_PAD.encode(hash)
}

/// Returns who holds a cookie's secret now: as the person stands now, not as at signing in.
///
/// # Errors
///
/// What the store says.
pub async fn hold(store: &impl HubStore, cookie: &str, now: Moment) -> Result<Option<HubPerson>, Error> {
    let Some(hash) = hash_of(cookie) else { return Ok(None) };
    let Some(token) = store.look_token(Purpose::SignIn, hash, now).await? else { return Ok(None) };
    let people = store.persons().await?;
    Ok(people.into_iter().find(|person| person.id.0.as_slice() == token.holder.as_slice()))
}

/// Ends a sign-in.
///
/// # Errors
///
/// What the store says.
pub async fn sign_out(store: &impl HubStore, cookie: &str, now: Moment) -> Result<(), Error> {
    if let Some(hash) = hash_of(cookie) {
        store.take_token(Purpose::SignIn, hash, now).await?;
    }
    Ok(())
}

fn hash_of(cookie: &str) -> Option<[u8; 32]> {
    let secret: [u8; 32] = URL_SAFE_NO_PAD.decode(cookie).ok()?.try_into().ok()?;
    Some(Sha256::digest(secret).into())
}
