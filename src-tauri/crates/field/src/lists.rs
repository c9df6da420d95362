//! The lists that an instrument can be picked from: what is to be done, and what was visited here.

use domain::visit::{Moment, date, day_of};
use store::TagKey;

use crate::view::{Hit, ListsView};
use crate::{Error, Phone, tag, when};

/// What is due within so many days stands on the work list; what has a reason stands there anyway.
const SOON: i64 = 31;
/// How many lines a list has at most.
const MOST: usize = 50;
/// How many of the last visits are looked through for recent instruments.
const MOST_SIGNED: u32 = 100;
const MOST_RECENT: usize = 12;

impl Phone {
    /// Returns the work list and what was visited on this phone.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn lists(&self) -> Result<ListsView, Error> {
        // Another day may have begun since they were last read.
        self.forget_offered();
        self.read_lists()
    }

    /// The most urgent first; what has no day comes last.
    pub(crate) fn work_list(&self) -> Result<Vec<Hit>, Error> {
        let now = self.now();
        let today = day_of(&when::sortable_day(now.wall, now.offset_minutes));
        let index = self.index()?;
        let mut lines: Vec<(i64, Hit)> = Vec::new();
        let until = today.map_or_else(String::new, |today| date(today + SOON));
        for line in self.store().to_do_until(&until)? {
            let due = day_of(&line.due);
            let left = due.zip(today).map(|(due, today)| due - today);
            if line.work.is_empty() && left.is_none_or(|left| left > SOON) {
                continue;
            }
            let Some(mut hit) = index.hit_of(&line.key) else { continue };
            hit.beside = beside(&line.due, left, &line.work);
            lines.push((due.unwrap_or(i64::MAX), hit));
        }
        lines.sort_by_key(|(due, _)| *due);
        lines.truncate(MOST);
        Ok(lines.into_iter().map(|(_, hit)| hit).collect())
    }

    /// Open visits first, then signed ones, each instrument once.
    pub(crate) fn recent(&self) -> Result<Vec<Hit>, Error> {
        let offset = self.now().offset_minutes;
        let day = |moment: i64| when::day_and_minute(Moment(moment), offset);
        let drafts = self.store().drafts()?.into_iter();
        let open =
            drafts.map(|draft| (tag::key(&draft.tag), format!("Open since {}", day(draft.saved_at.0))));
        let signed = self.store().signed(MOST_SIGNED)?.into_iter();
        let signed = signed.map(|visit| (visit.tag_key, format!("Visited {}", day(visit.signed_at.0))));
        let index = self.index()?;
        let mut seen: Vec<TagKey> = Vec::new();
        let mut hits = Vec::new();
        for (key, beside) in open.chain(signed) {
            if seen.contains(&key) || hits.len() >= MOST_RECENT {
                continue;
            }
            hits.extend(index.hit_of(&key).map(|hit| Hit { beside, ..hit }));
            seen.push(key);
        }
        Ok(hits)
    }
}

fn beside(due: &str, left: Option<i64>, work: &str) -> String {
    let when = match left {
        Some(left) if left < 0 => format!("Overdue since {due}"),
        Some(0) => "Due today".to_owned(),
        Some(_) => format!("Due {due}"),
        None => String::new(),
    };
    if when.is_empty() || work.is_empty() { format!("{when}{work}") } else { format!("{when}: {work}") }
}
