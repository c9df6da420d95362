//! What opens a door: sessions, one-time codes, sign-ins, and phones that wait at it.

use std::future::Future;

use record::LogId;

use crate::{Error, Moment};

/// What a token is for. One made for one purpose is none for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Purpose {
    /// A challenge of the exchange: 32 bytes, used once.
    Session,
    /// A code that enrols a phone, used once.
    Code,
    /// A person's sign-in, used until it expires or is dropped.
    SignIn,
}

impl Purpose {
    pub(crate) fn number(self) -> i64 {
        match self {
            Purpose::Session => 1,
            Purpose::Code => 2,
            Purpose::SignIn => 3,
        }
    }
}

/// A token. The secret itself is never kept, only its hash.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Token {
    /// What it is for.
    pub purpose: Purpose,
    /// The hash of the secret.
    pub hash: [u8; 32],
    /// Whose it is: a log, a person. They end with what ends for the holder, as [`Follows`](super::Follows) has it.
    pub holder: Vec<u8>,
    /// What belongs to it.
    pub content: Vec<u8>,
    /// From when on it is none any more.
    pub expires: Moment,
}

/// A phone that has shown a code and waits to be confirmed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Enrolment {
    /// The phone's log.
    pub log: LogId,
    /// Its public key, as COSE_Key.
    pub key: Vec<u8>,
    /// What the phone calls itself.
    pub label: String,
    /// What the code said, as its maker wrote it.
    pub content: Vec<u8>,
    /// The six digits that both sides show.
    pub digits: String,
    /// When it asked.
    pub asked: Moment,
}

/// Tokens, enrolments and counters. All end by a moment that is handed in.
pub trait Access {
    /// Keeps a token.
    fn put_token(&self, token: &Token) -> impl Future<Output = Result<(), Error>> + Send;

    /// Takes a token out: of two who ask at once, one gets it.
    fn take_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> impl Future<Output = Result<Option<Token>, Error>> + Send;

    /// Looks at a token and leaves it.
    fn look_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> impl Future<Output = Result<Option<Token>, Error>> + Send;

    /// Spends a code and lets the phone wait, both or neither. `content` of the enrolment is replaced by the code's.
    /// Returns none when the code is unknown, spent or expired.
    fn enrol_with(
        &self,
        code: [u8; 32],
        now: Moment,
        enrolment: &Enrolment,
    ) -> impl Future<Output = Result<Option<Enrolment>, Error>> + Send;

    /// Returns the phones that wait, oldest first.
    fn enrolments(&self) -> impl Future<Output = Result<Vec<Enrolment>, Error>> + Send;

    /// Drops a phone that waits: it was confirmed or sent away. Returns whether it waited.
    fn drop_enrolment(&self, log: LogId) -> impl Future<Output = Result<bool, Error>> + Send;

    /// Counts a request in a bucket and returns how many there were in this window. Windows are numbered by the
    /// caller, rising.
    fn strike(&self, bucket: &str, window: i64) -> impl Future<Output = Result<u64, Error>> + Send;

    /// Clears away what has expired, and counters of windows below one. Returns how much that was.
    fn sweep(&self, now: Moment, window: i64) -> impl Future<Output = Result<u64, Error>> + Send;
}
