//! The messages between a phone and the hub.
//!
//! A phone asks twice: [`Hello`] says what it holds and is answered by what the hub lacks ([`Welcome`]); [`Push`] brings
//! that and is answered, after the hub's durable commit, by a receipt and by what is new for the phone ([`Answer`]). What
//! does not fit goes into further pushes, each whole in itself.
//!
//! Reading is generous to later versions: a key that is not known is passed over. Nothing here is trusted: entries and
//! pages carry their own signatures, and a push proves that the phone's key made it.

use bodies::Epoch;
use minicbor::bytes::ByteVec;
use minicbor::{Decode, Encode};
use record::{EntryId, LogId, PayloadHash, Proof, PublicKey, Signature, Signer};
use sha2::{Digest, Sha256};

use crate::Error;
use crate::have::HaveSet;
use crate::run::Wanted;

/// The version of the messages.
pub const PROTOCOL: u32 = 1;

/// Where a phone stands in the register feed of an area.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cursor {
    /// The area.
    pub area: String,
    /// The last version that it applied.
    pub version: u64,
}

/// A log whose receipts a phone wants to know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// The log.
    pub log: LogId,
    /// The payloads of the newest receipts that it has of this epoch, one of each grade.
    pub receipts: Vec<PayloadHash>,
}

/// An entry that was not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// Which.
    pub id: EntryId,
    /// Why, as a stable word; `full` may be tried again later.
    pub code: String,
}

/// A phone begins.
#[derive(Debug, Clone, PartialEq, Eq, Encode, Decode)]
#[cbor(map)]
pub struct Hello {
    /// The version of the messages.
    #[n(1)]
    pub protocol: u32,
    /// The COSE_Key of the phone's present log.
    #[cbor(n(2), with = "minicbor::bytes")]
    pub key: Vec<u8>,
    /// What it holds of all logs but the hub's.
    #[n(3)]
    pub have: HaveSet,
    /// The hub's epoch as the phone knows it.
    #[cbor(n(4), with = "crate::wire::some_epoch", has_nil)]
    pub epoch: Option<Epoch>,
}

/// The hub's answer to a hello.
#[derive(Debug, Clone, PartialEq, Eq, Encode, Decode)]
#[cbor(map)]
pub struct Welcome {
    /// The version of the messages.
    #[n(1)]
    pub protocol: u32,
    /// The hub's epoch.
    #[cbor(n(2), with = "crate::wire::epoch")]
    pub epoch: Epoch,
    /// Random, and good for one push.
    #[cbor(n(3), with = "minicbor::bytes")]
    pub session: [u8; 32],
    /// What the hub lacks.
    #[n(4)]
    pub wanted: Vec<Wanted>,
    /// Where the epoch is new to the phone: the keys of the logs below.
    #[n(5)]
    pub keys: Vec<ByteVec>,
    /// Where the epoch is new to the phone: the organisation's entries, by which it can tell whether this is its hub.
    #[n(6)]
    pub trust: Vec<ByteVec>,
}

/// A phone brings entries and asks for news.
#[derive(Debug, Clone, PartialEq, Eq, Encode, Decode)]
#[cbor(map)]
pub struct Push {
    /// What the hub gave for this push.
    #[cbor(n(1), with = "minicbor::bytes")]
    pub session: [u8; 32],
    /// The keys of the logs of these entries.
    #[n(2)]
    pub keys: Vec<ByteVec>,
    /// The entries, each exactly as it is kept.
    #[n(3)]
    pub entries: Vec<ByteVec>,
    /// The hub's number of the last news that the phone took.
    #[n(4)]
    pub news: u64,
    /// Where the phone stands in the register feed.
    #[n(5)]
    pub areas: Vec<Cursor>,
    /// The logs whose receipts it wants to know.
    #[n(6)]
    pub about: Vec<About>,
    /// What it holds of hub logs; only where the epoch is new to it.
    #[n(7)]
    pub have: Option<HaveSet>,
    /// Whether nothing of what was asked for is left to bring.
    #[n(8)]
    pub last: bool,
    /// What it once had and has no more, to be given back to it; left out where that is nothing.
    #[n(9)]
    pub lacks: Option<Vec<Wanted>>,
}

/// The hub's answer to a push, after its commit.
#[derive(Debug, Clone, PartialEq, Eq, Encode, Decode)]
#[cbor(map)]
pub struct Answer {
    /// Random, and good for one more push.
    #[cbor(n(1), with = "minicbor::bytes")]
    pub session: [u8; 32],
    /// What was not taken.
    #[n(2)]
    pub refused: Vec<Refused>,
    /// What the hub lacks still, now that it has seen these.
    #[n(3)]
    pub wanted: Vec<Wanted>,
    /// The keys of the logs of these entries.
    #[n(4)]
    pub keys: Vec<ByteVec>,
    /// News: certificates, revocations, and the reviews, amendments and receipts that concern this phone.
    #[n(5)]
    pub entries: Vec<ByteVec>,
    /// The hub's number of the last of the news.
    #[n(6)]
    pub news: u64,
    /// Pages of the register feed.
    #[n(7)]
    pub pages: Vec<ByteVec>,
    /// Whether more news or pages wait.
    #[n(8)]
    pub more: bool,
}

/// Writes a message.
///
/// # Errors
///
/// [`Error::Writing`]; with a vector as the target that does not happen.
pub fn write<M: Encode<()>>(message: &M) -> Result<Vec<u8>, Error> {
    minicbor::to_vec(message).map_err(|error| Error::Writing(error.to_string()))
}

/// Reads a message, all of the bytes.
///
/// # Errors
///
/// [`Error::Malformed`].
pub fn read<'b, M: Decode<'b, ()>>(bytes: &'b [u8]) -> Result<M, Error> {
    let mut from = minicbor::Decoder::new(bytes);
    let message = from.decode().map_err(|error| Error::Malformed(error.to_string()))?;
    if from.position() != bytes.len() {
        return Err(Error::Malformed("something stands behind the message".into()));
    }
    Ok(message)
}

/// Writes a push with the proof that the phone's key made it.
///
/// # Errors
///
/// [`Error::Record`] when the key cannot be used now.
pub fn write_push(push: &Push, signer: &impl Signer) -> Result<Vec<u8>, Error> {
    let body = write(push)?;
    let proof = signer.sign(&proved(&push.session, &body)?)?;
    let mut out = minicbor::Encoder::new(Vec::with_capacity(body.len() + 80));
    let written = out.array(2).and_then(|out| out.bytes(&proof.0)).and_then(|out| out.bytes(&body));
    written.map_err(|error| Error::Writing(error.to_string()))?;
    Ok(out.into_writer())
}

/// Reads a push; `key` is the one that its session was given to, by that session.
///
/// # Errors
///
/// [`Error::Malformed`]; [`Error::NotProved`] where another key made it, or none.
pub fn read_push(
    bytes: &[u8],
    key: impl FnOnce(&[u8; 32]) -> Option<PublicKey>,
    proof: &(impl Proof + ?Sized),
) -> Result<Push, Error> {
    let (signature, body) = parts(bytes).map_err(|error| Error::Malformed(error.to_string()))?;
    let push: Push = read(body)?;
    let signature = Signature(signature.try_into().map_err(|_| Error::NotProved)?);
    let key = key(&push.session).ok_or(Error::NotProved)?;
    if !proof.holds(&key, &proved(&push.session, body)?, &signature) {
        return Err(Error::NotProved);
    }
    Ok(push)
}

/// Reads the session of a push that was not proved yet: for looking up whose it is.
///
/// # Errors
///
/// [`Error::Malformed`].
pub fn session_of(bytes: &[u8]) -> Result<[u8; 32], Error> {
    let (_, body) = parts(bytes).map_err(|error| Error::Malformed(error.to_string()))?;
    Ok(read::<Push>(body)?.session)
}

fn parts(bytes: &[u8]) -> Result<(&[u8], &[u8]), minicbor::decode::Error> {
    let mut from = minicbor::Decoder::new(bytes);
    if from.array()? != Some(2) {
        return Err(minicbor::decode::Error::message("a push is a proof and a message"));
    }
    let parts = (from.bytes()?, from.bytes()?);
    if from.position() == bytes.len() {
        Ok(parts)
    } else {
        Err(minicbor::decode::Error::message("something stands behind the push"))
    }
}

/// What a proof is over. No entry and no page begins like this, so that none is ever signed by mistake.
fn proved(session: &[u8; 32], body: &[u8]) -> Result<Vec<u8>, Error> {
    let mut out = minicbor::Encoder::new(Vec::with_capacity(100));
    let written = out
        .array(3)
        .and_then(|out| out.str("headmark/session/1"))
        .and_then(|out| out.bytes(session))
        .and_then(|out| out.bytes(&Sha256::digest(body)));
    written.map_err(|error| Error::Writing(error.to_string()))?;
    Ok(out.into_writer())
}
