//! What is told while something is under way.

/// Where an exchange is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Asking the hub what it lacks.
    Asking,
    /// Bringing records.
    Records,
    /// Records are there; photos go.
    Photos,
    /// A try failed; the next one comes by itself.
    Waiting {
        /// After how many seconds, at most.
        seconds: u32,
    },
    /// It is over.
    Done,
}

/// How far an exchange has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Where it is.
    pub stage: Stage,
    /// Records brought so far.
    pub records_sent: u64,
    /// Records that the hub still asks for.
    pub records_left: u64,
    /// Bytes of records and photos brought so far, before packing.
    pub bytes_sent: u64,
    /// Bytes still to go: of photos as they are, of records as long as those brought so far were on average; none
    /// before anything is known.
    pub bytes_left: Option<u64>,
    /// Photos brought so far.
    pub photos_sent: u32,
    /// Photos still to go.
    pub photos_left: u32,
}

impl Default for Progress {
    fn default() -> Progress {
        Progress {
            stage: Stage::Asking,
            records_sent: 0,
            records_left: 0,
            bytes_sent: 0,
            bytes_left: None,
            photos_sent: 0,
            photos_left: 0,
        }
    }
}

impl Progress {
    /// Takes over what a session has done so far.
    #[must_use]
    pub(crate) fn of(stage: Stage, so_far: &exchange::session::Summary) -> Progress {
        Progress {
            stage,
            records_sent: so_far.sent,
            records_left: so_far.left,
            bytes_sent: so_far.sent_bytes,
            bytes_left: so_far
                .sent_bytes
                .checked_div(so_far.sent)
                .map(|each| each.saturating_mul(so_far.left)),
            ..Progress::default()
        }
    }
}

/// What an exchange needs of the outside while it goes on.
pub trait Around {
    /// Tells how far it has come.
    fn told(&self, progress: &Progress);

    /// Returns whether to stop at the next border between two pieces.
    fn is_stopped(&self) -> bool;
}
