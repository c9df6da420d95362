//! The list of visits.

use super::Memory;
use crate::{Arrival, Error, TagKey, VisitRow, Visits, VisitsAsked};

impl Visits for Memory {
    async fn visits(&self, asked: &VisitsAsked) -> Result<Vec<VisitRow>, Error> {
        let state = self.state();
        let older = state.visits.range(..asked.before.unwrap_or(Arrival(u64::MAX))).rev();
        let of_tag =
            older.filter(|(_, line)| asked.tag.as_ref().is_none_or(|tag| TagKey::of(&line.tag) == *tag));
        let of_site = of_tag.filter(|(_, line)| asked.site.as_ref().is_none_or(|site| line.site == *site));
        let row = |(arrival, line): (&Arrival, &crate::VisitLine)| {
            let id = state.entries.get(arrival)?.id;
            Some(VisitRow { arrival: *arrival, id, line: line.clone() })
        };
        Ok(of_site.filter_map(row).take(asked.most as usize).collect())
    }

    async fn visit_count(&self) -> Result<u64, Error> {
        Ok(self.state().visits.len() as u64)
    }
}
