//! What a person may state by one touch where everything is as usual: the lines are shown, none is answered before.
//!
//! A safety list is answered by one touch only in its usual items, and only when each of the site's own items has an
//! answer: what a site wrote itself is read line by line, and so are a hazardous area and a confined space. Every line
//! becomes an answer of its own.

use super::recorded::on_record;
use super::{Assessment, Choice, Doubt, Draft, Key, Spot, Step, safety};

/// One line of what is stated.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stated {
    /// Where it is answered.
    pub spot: Spot,
    /// The text of the answer.
    pub text: String,
    /// The label where it is data (a safety item); empty otherwise.
    pub label: String,
}

impl Stated {
    fn of(spot: Spot, choice: Choice) -> Stated {
        Stated { spot, text: choice.word().into(), label: String::new() }
    }
}

/// One question is as quickly answered by itself.
const FEWEST: usize = 2;

impl Assessment {
    /// Returns what may be stated by one touch on a step; nothing where it would save none.
    #[must_use]
    pub fn together(&self, draft: &Draft, step: Step) -> Vec<Stated> {
        let lines = match step {
            Step::Find => plate(draft),
            Step::MakeSafe => {
                usual(draft, &draft.instrument.safety, &safety::usual(&draft.instrument), Key::SafetyItem)
            }
            Step::AsFound => self.as_usual(draft),
            Step::BackInService => usual(draft, &draft.instrument.back, &safety::back_items(), Key::BackItem),
            _ => Vec::new(),
        };
        let open: Vec<Stated> =
            lines.into_iter().filter(|line| draft.answers.get(line.spot).is_none()).collect();
        if open.len() < FEWEST { Vec::new() } else { open }
    }

    /// Nothing is stated before the display is read; and an offset by the record only of the unit it belongs to.
    fn as_usual(&self, draft: &Draft) -> Vec<Stated> {
        if self.entries.reading(Spot::of(Key::Display)).is_none() {
            return Vec::new();
        }
        let other_unit =
            self.remarks(Step::Find).iter().any(|remark| remark.reason_row == Doubt::SerialDiffers.row());
        let on_record = on_record(draft).is_some() && !other_unit;
        let place = self.head_place.as_ref().map(|place| place.choice);
        let as_planned = place.filter(|place| *place == self.known.plan);
        let lines = [
            (Key::OffsetKnown, on_record.then_some(Choice::OffsetFromRecord)),
            (Key::StandingHeadAt, as_planned),
            (Key::LineBled, Some(Choice::BledClear)),
            (Key::VentLooked, Some(Choice::VentClear)),
            (Key::FlowInRiser, self.flow_matters().then_some(Choice::FlowStill)),
        ];
        lines.into_iter().filter_map(|(key, choice)| Some(Stated::of(Spot::of(key), choice?))).collect()
    }
}

fn plate(draft: &Draft) -> Vec<Stated> {
    let serial = draft.instrument.serial.clone();
    let mut lines = vec![Stated::of(Spot::of(Key::TagMatches), Choice::Yes)];
    if !serial.trim().is_empty() {
        lines.push(Stated { spot: Spot::of(Key::SerialRead), text: serial, label: String::new() });
    }
    lines.push(Stated::of(Spot::of(Key::RangeMatches), Choice::Yes));
    lines
}

/// The usual items of a list, once each of the site's own has an answer.
fn usual(draft: &Draft, list: &[String], usual: &[String], key: Key) -> Vec<Stated> {
    let rows = || (0u32..).zip(list);
    let stated = |item: &String| usual.contains(item) && !safety::by_itself(item);
    let own_open = rows()
        .filter(|(_, item)| !stated(item))
        .any(|(row, _)| draft.answers.get(Spot::row(key, row)).is_none());
    if own_open {
        return Vec::new();
    }
    let items = rows().filter(|(_, item)| stated(item));
    items
        .map(|(row, item)| Stated { label: item.clone(), ..Stated::of(Spot::row(key, row), Choice::Done) })
        .collect()
}
