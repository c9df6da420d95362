//! Where records are, in a line.

use store::{Counts, Stands, VisitState};

use crate::counted::counted;

/// Returns the line for all records of this phone.
pub(crate) fn status(counts: &Counts, has_hub: bool) -> String {
    let visits = counts.visits;
    if visits == 0 {
        return "No records on this phone yet".to_owned();
    }
    if !has_hub && counts.only_here == visits {
        return format!("{} on this phone", counted(visits, "record"));
    }
    let photos = match photos(counts.photos_waiting, counts.photos_missing) {
        none if none.is_empty() => none,
        photos => format!(", {photos}"),
    };
    if counts.received == visits {
        let all = if visits == 1 { "The record is".to_owned() } else { format!("All {visits} records are") };
        return format!("{all} at the hub{photos}");
    }
    let parts = [
        (counts.received, "at the hub"),
        (counts.also_elsewhere, "also on another phone"),
        (counts.only_here, "only here"),
    ];
    let parts: Vec<String> =
        parts.iter().filter(|(many, _)| *many > 0).map(|(many, place)| format!("{many} {place}")).collect();
    format!("{}: {}{photos}", counted(visits, "record"), parts.join(", "))
}

/// Returns the line for one visit, its photos counted.
pub(crate) fn whereabouts(state: &VisitState) -> String {
    let waiting = state.photos.saturating_sub(state.photos_received + state.photos_missing);
    let photos = photos(waiting, state.photos_missing);
    let all_backed_up = state.photos_backed_up == state.photos;
    match (state.record, photos.is_empty()) {
        (Stands::Here, _) if state.photos == 0 => "On this phone".to_owned(),
        (Stands::Here, _) => format!("On this phone, with {}", counted(state.photos, "photo")),
        (Stands::AlsoElsewhere, true) => "Also on another phone".to_owned(),
        (Stands::AlsoElsewhere, false) => format!("Also on another phone, {photos}"),
        (Stands::Received | Stands::BackedUp, false) => format!("Record sent, {photos}"),
        (Stands::BackedUp, true) if all_backed_up => {
            format!("Received by the hub{}, and in its backup", with(state.photos))
        }
        (Stands::Received | Stands::BackedUp, true) => format!("Received by the hub{}", with(state.photos)),
    }
}

/// What is to be said of photos that the hub has not; empty where there are none.
fn photos(waiting: u32, missing: u32) -> String {
    match (waiting, missing) {
        (0, 0) => String::new(),
        (0, missing) => format!("{} neither here nor at the hub", counted(missing, "photo")),
        (waiting, 0) => format!("{} still here", counted(waiting, "photo")),
        (waiting, missing) => {
            format!("{} still here, {missing} neither here nor at the hub", counted(waiting, "photo"))
        }
    }
}

/// Returns the host of an address, which is what a person knows a hub by.
pub(crate) fn host(address: &str) -> &str {
    let rest = address.split_once("://").map_or(address, |(_, rest)| rest);
    rest.split('/').next().unwrap_or(rest)
}

fn with(photos: u32) -> String {
    if photos == 0 { String::new() } else { format!(" with {}", counted(photos, "photo")) }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn state(record: Stands, photos: u32, photos_received: u32, photos_missing: u32) -> VisitState {
        let photos_backed_up = if record == Stands::BackedUp { photos_received } else { 0 };
        VisitState { record, photos, photos_received, photos_backed_up, photos_missing }
    }

    #[rstest]
    #[case::here(state(Stands::Here, 0, 0, 0), "On this phone")]
    #[case::here_with_photos(state(Stands::Here, 2, 0, 0), "On this phone, with 2 photos")]
    #[case::relayed(state(Stands::AlsoElsewhere, 0, 0, 0), "Also on another phone")]
    #[case::relayed_without_its_photo(
        state(Stands::AlsoElsewhere, 1, 0, 0),
        "Also on another phone, 1 photo still here"
    )]
    #[case::record_ahead_of_photos(state(Stands::Received, 4, 1, 0), "Record sent, 3 photos still here")]
    #[case::photos_lost(state(Stands::Received, 2, 1, 1), "Record sent, 1 photo neither here nor at the hub")]
    #[case::whole(state(Stands::Received, 0, 0, 0), "Received by the hub")]
    #[case::whole_with_photos(state(Stands::Received, 3, 3, 0), "Received by the hub with 3 photos")]
    #[case::backed_up(
        state(Stands::BackedUp, 1, 1, 0),
        "Received by the hub with 1 photo, and in its backup"
    )]
    #[case::backed_up_ahead_of_its_photos(
        VisitState { photos_backed_up: 1, ..state(Stands::BackedUp, 2, 2, 0) },
        "Received by the hub with 2 photos"
    )]
    #[case::backed_up_ahead_of_a_photo(state(Stands::BackedUp, 1, 0, 0), "Record sent, 1 photo still here")]
    fn a_visit_is_told_with_its_photos(#[case] state: VisitState, #[case] said: &str) {
        assert_eq!(whereabouts(&state), said);
    }

    fn counts(only_here: u32, also_elsewhere: u32, received: u32, photos_waiting: u32) -> Counts {
        let visits = only_here + also_elsewhere + received;
        let counts = Counts { visits, only_here, also_elsewhere, received, ..Counts::default() };
        Counts { photos_waiting, ..counts }
    }

    #[rstest]
    #[case::none(counts(0, 0, 0, 0), true, "No records on this phone yet")]
    #[case::no_hub(counts(2, 0, 0, 0), false, "2 records on this phone")]
    #[case::one(counts(1, 0, 0, 0), true, "1 record: 1 only here")]
    #[case::mixed(
        counts(1, 2, 9, 3),
        true,
        "12 records: 9 at the hub, 2 also on another phone, 1 only here, 3 photos still here"
    )]
    #[case::all(counts(0, 0, 12, 0), true, "All 12 records are at the hub")]
    #[case::the_one(counts(0, 0, 1, 1), true, "The record is at the hub, 1 photo still here")]
    #[case::photos_lost(
        Counts { photos_missing: 2, ..counts(0, 0, 3, 0) },
        true,
        "All 3 records are at the hub, 2 photos neither here nor at the hub"
    )]
    fn all_records_are_told_in_a_line(#[case] counts: Counts, #[case] has_hub: bool, #[case] said: &str) {
        assert_eq!(status(&counts, has_hub), said);
    }

    #[rstest]
    #[case("https://hub.marrowby.example:8443/under", "hub.marrowby.example:8443")]
    #[case("10.20.0.4", "10.20.0.4")]
    fn a_hub_is_known_by_its_host(#[case] address: &str, #[case] said: &str) {
        assert_eq!(host(address), said);
    }
}
