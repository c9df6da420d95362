//! A session: what the hub gives a phone for its next push. It is spent by that push, and names the key that may make it.

use ::exchange::Error as Refused;
use ::exchange::message::Push;
use hubstore::{HubStore, Purpose, Token};
use record::PublicKey;
use sha2::{Digest, Sha256};

use super::PushError;
use crate::Error;
use crate::home::Hub;

/// How long a session may wait for its push: a phone on a bad link packs and sends in this time.
const SECONDS: i64 = 15 * 60;

/// Whose push it is for, and whether that phone may be told anything yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Session {
    pub(super) key: PublicKey,
    pub(super) giving_back: GivingBack,
}

/// How far a phone is with giving back what this hub lost of hubs' logs. Until it has ended, nothing is told to it: what
/// it still carries may say that it is trusted no more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum GivingBack {
    /// It met this epoch just now and is to say what it holds.
    Untold,
    /// It said so, and brings what is lacking here.
    Begun,
    /// It has nothing to give back.
    Ended,
}

impl GivingBack {
    /// Returns how far the phone is after a push. `lacking` says whether something of a hub's log is wanted of it still.
    ///
    /// A phone brings each wanted branch once a session and says which push is the last; so what it does not hold after
    /// all keeps it waiting in no more than this session.
    pub(super) fn after(self, push: &Push, lacking: bool) -> GivingBack {
        match (self, &push.have) {
            (GivingBack::Untold, None) => GivingBack::Untold,
            (GivingBack::Ended, None) => GivingBack::Ended,
            (_, Some(_)) if !lacking => GivingBack::Ended,
            (GivingBack::Begun, None) if push.last && !lacking => GivingBack::Ended,
            _ => GivingBack::Begun,
        }
    }

    fn code(self) -> u8 {
        match self {
            GivingBack::Untold => 0,
            GivingBack::Begun => 1,
            GivingBack::Ended => 2,
        }
    }

    fn of_code(code: u8) -> Option<GivingBack> {
        [GivingBack::Untold, GivingBack::Begun, GivingBack::Ended].into_iter().find(|one| one.code() == code)
    }
}

impl Session {
    /// Lets one push be made with these random bytes.
    pub(super) async fn give<S, K, P>(&self, hub: &Hub<S, K, P>, random: [u8; 32]) -> Result<(), Error>
    where
        S: HubStore,
    {
        let expires = hub.clock.now().after_seconds(SECONDS);
        let token = Token {
            purpose: Purpose::Session,
            hash: Sha256::digest(random).into(),
            holder: self.key.log().0.to_vec(),
            content: [self.key.cose(), &[self.giving_back.code()]].concat(),
            expires: hubstore::Moment(expires.0),
        };
        Ok(hub.store.put_token(&token).await?)
    }

    /// Spends the session of these bytes.
    pub(super) async fn spend<S, K, P>(hub: &Hub<S, K, P>, random: [u8; 32]) -> Result<Session, PushError>
    where
        S: HubStore,
    {
        let hash = Sha256::digest(random).into();
        let now = hubstore::Moment(hub.clock.now().0);
        let token = hub.store.take_token(Purpose::Session, hash, now).await?;
        let content = token.ok_or(Refused::NotProved)?.content;
        let (code, key) = content.split_last().ok_or(Refused::NotProved)?;
        let giving_back = GivingBack::of_code(*code).ok_or(Refused::NotProved)?;
        let key = PublicKey::from_cose(key).map_err(|_| Refused::NotProved)?;
        Ok(Session { key, giving_back })
    }
}
