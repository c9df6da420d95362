//! A phone says what it holds.

use ::exchange::have::HaveSet;
use ::exchange::message::{Hello, PROTOCOL, Welcome};
use ::exchange::{Error as Refused, plan};
use bodies::Epoch;
use hubstore::HubStore;
use minicbor::bytes::ByteVec;
use record::{LogId, PublicKey, Signer};

use super::PushError;
use super::session::{GivingBack, Session};
use crate::Error;
use crate::home::Hub;
use crate::trusted::of_organisation;

/// The most runs that a have set may name: beyond that it is nobody's ledger.
const MOST_RUNS: usize = 20_000;

/// Answers a hello. `session` are 32 random bytes.
///
/// # Errors
///
/// What is wrong with the hello, or what the store says.
pub async fn hello<S, K, P>(
    hub: &Hub<S, K, P>,
    hello: &Hello,
    session: [u8; 32],
) -> Result<Welcome, PushError>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    if hello.protocol != PROTOCOL {
        return Err(PushError::Exchange(Refused::OtherProtocol(hello.protocol)));
    }
    let key = PublicKey::from_cose(&hello.key).map_err(Refused::Record)?;
    let runs: usize = hello.have.0.values().map(Vec::len).sum();
    if runs > MOST_RUNS || hello.have.0.len() > MOST_RUNS {
        return Err(PushError::Exchange(Refused::TooLarge { most: MOST_RUNS }));
    }
    let wanted = wanted(hub, &hello.have).await?;
    let epoch = Epoch(hub.identity.epoch.0);
    let (keys, trust) =
        if hello.epoch == Some(epoch) { Default::default() } else { organisation(hub).await? };
    let giving_back = if hello.epoch == Some(epoch) { GivingBack::Ended } else { GivingBack::Untold };
    Session { key, giving_back }.give(hub, session).await?;
    Ok(Welcome { protocol: PROTOCOL, epoch, session, wanted, keys, trust })
}

/// Returns what the hub lacks of what somebody holds.
pub(super) async fn wanted<S, K, P>(
    hub: &Hub<S, K, P>,
    have: &HaveSet,
) -> Result<Vec<::exchange::run::Wanted>, Error>
where
    S: HubStore,
{
    let logs: Vec<LogId> = have.0.keys().copied().collect();
    let ours = hub.store.runs(&logs).await?;
    let ends = plan::ends(have);
    let held = hub.store.holds(&ends).await?;
    let held: Vec<_> = ends.into_iter().zip(held).filter(|(_, held)| *held).map(|(id, _)| id).collect();
    Ok(plan::wanted(have, &ours, &held))
}

/// The organisation's entries and their keys: by them a phone tells whether a hub of a new epoch is its own.
async fn organisation<S, K, P>(hub: &Hub<S, K, P>) -> Result<(Vec<ByteVec>, Vec<ByteVec>), Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let (keys, entries) = of_organisation(hub).await?;
    Ok((keys.into_iter().map(ByteVec::from).collect(), entries.into_iter().map(ByteVec::from).collect()))
}
