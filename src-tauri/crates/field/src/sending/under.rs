//! What a carrier tells while it works.

use crate::view::{Network, ProgressView};

/// Where a carrier is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Stage {
    /// Nothing is under way.
    #[default]
    Idle,
    /// Asking the hub what it lacks.
    Asking,
    /// Bringing records.
    Records,
    /// Records are there; photos go.
    Photos,
    /// A try failed; the next comes by itself.
    Waiting,
}

/// What is under way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Under {
    /// Where it is.
    pub stage: Stage,
    /// Records brought, and still asked for.
    pub records: (u64, u64),
    /// Photos brought, and still to go.
    pub photos: (u32, u32),
    /// Bytes still to go; none before anything is known.
    pub bytes_left: Option<u64>,
    /// While waiting: after how many seconds the next try comes.
    pub seconds: u32,
    /// Entries that the hub would not take.
    pub refused: u32,
    /// What kind of connection there is.
    pub network: Network,
}

impl Under {
    /// Returns whether something is on its way now.
    #[must_use]
    pub fn is_sending(&self) -> bool {
        matches!(self.stage, Stage::Asking | Stage::Records | Stage::Photos)
    }

    /// Returns the line of what is going on; empty where nothing is.
    pub(super) fn line(&self) -> String {
        match self.stage {
            Stage::Idle | Stage::Waiting => String::new(),
            Stage::Asking => "Asking the hub what it lacks".to_owned(),
            Stage::Records => format!("Sending: {}", part(self.records, "record")),
            Stage::Photos => {
                let (done, left) = self.photos;
                format!("Sending: {}", part((done.into(), left.into()), "photo"))
            }
        }
    }

    /// Returns how far it has come; none where nothing is under way.
    pub(super) fn progress(&self) -> Option<ProgressView> {
        let (what, (done, left)) = match self.stage {
            Stage::Idle => return None,
            Stage::Asking => ("Asking the hub what it lacks", (0, 0)),
            Stage::Records => ("Sending records", self.records),
            Stage::Photos => ("Sending photos", (u64::from(self.photos.0), u64::from(self.photos.1))),
            Stage::Waiting => {
                let how_far = format!("The next try comes by itself within {}.", span(self.seconds));
                return Some(ProgressView { what: "Waiting for the hub".to_owned(), how_far, percent: None });
            }
        };
        let noun = if self.stage == Stage::Photos { "photo" } else { "record" };
        let known = done + left > 0;
        let mut how_far = if known { part((done, left), noun) } else { String::new() };
        if let Some(bytes) = self.bytes_left.filter(|bytes| known && *bytes > 0) {
            how_far.push_str(&format!(", about {} to go", size(bytes)));
        }
        let percent = (done * 100).checked_div(done + left).and_then(|percent| u32::try_from(percent).ok());
        Some(ProgressView { what: what.to_owned(), how_far, percent })
    }
}

fn part((done, left): (u64, u64), noun: &str) -> String {
    let all = done + left;
    let many = if all == 1 { "" } else { "s" };
    format!("{done} of {all} {noun}{many}")
}

fn span(seconds: u32) -> String {
    match seconds {
        0..=1 => "a second".to_owned(),
        2..=90 => format!("{seconds} seconds"),
        more => format!("{} minutes", more.div_ceil(60)),
    }
}

/// Bytes as people say them, rounded up.
pub(super) fn size(bytes: u64) -> String {
    const KILO: u64 = 1_000;
    if bytes < KILO * KILO {
        return format!("{} kB", bytes.div_ceil(KILO));
    }
    let tenths = bytes.div_ceil(KILO * KILO / 10);
    format!("{}.{} MB", tenths / 10, tenths % 10)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::little(1, "1 kB")]
    #[case::up(310_001, "311 kB")]
    #[case::a_million(1_000_000, "1.0 MB")]
    #[case::a_photo(4_210_000, "4.3 MB")]
    fn bytes_are_rounded_up(#[case] bytes: u64, #[case] said: &str) {
        assert_eq!(size(bytes), said);
    }

    #[test]
    fn how_far_it_has_come_is_said_in_records_and_bytes() {
        let under =
            Under { stage: Stage::Records, records: (12, 38), bytes_left: Some(310_000), ..Under::default() };
        let progress = under.progress().unwrap();
        assert_eq!(progress.how_far, "12 of 50 records, about 310 kB to go");
        assert_eq!((progress.percent, under.line().as_str()), (Some(24), "Sending: 12 of 50 records"));
    }

    #[test]
    fn before_anything_is_known_nothing_is_made_up() {
        let under = Under { stage: Stage::Asking, ..Under::default() };
        let progress = under.progress().unwrap();
        assert_eq!((progress.how_far.as_str(), progress.percent), ("", None));
    }
}
