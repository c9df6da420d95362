//! What stands before touching anything: the site's own items first, then the usual ones that apply here.
//!
//! The list never replaces local rules, permits or licensed practice, and says so on the screen. The items are
//! the trade's usual cautions (common practice; the rules that govern them differ from place to place).

use super::{Claim, Instrument, Remark};

/// Returns the list for an instrument: what the site wrote, then the usual items that apply.
#[must_use]
pub fn items(instrument: &Instrument) -> Vec<String> {
    let mut list = instrument.safety.clone();
    for item in usual(instrument) {
        if !list.contains(&item) {
            list.push(item);
        }
    }
    list
}

const HAZARDOUS_AREA: &str =
    "Hazardous area: gas test and permit in hand; phone, meter and tools allowed in this zone";
const CONFINED_SPACE: &str = "Confined space: permit, air tested, attendant at the top, way out kept clear";

const HEIGHT: &str = "Height: nobody climbs alone, nor in high wind, ice or lightning; fall protection on, no phone on a ladder; ground only if in doubt";

/// Tells whether an item is about work at height: the usual one, as it is worded now or was before, or one of the site's own.
pub(super) fn about_height(item: &str) -> bool {
    item.starts_with("Height:")
}

/// Tells whether an item is always answered by itself: what kills within minutes is not stated among others.
pub(super) fn by_itself(item: &str) -> bool {
    item == HAZARDOUS_AREA || item == CONFINED_SPACE
}

/// Returns the usual items that apply to an instrument.
#[must_use]
pub fn usual(instrument: &Instrument) -> Vec<String> {
    let hazards = &instrument.site.hazards;
    let mut list = Vec::new();
    let mut add = |applies: bool, text: &str| {
        if applies {
            list.push(text.to_owned());
        }
    };
    add(true, "Loop and pump control in manual; whatever this level starts or stops is held");
    add(true, "Alarms and interlocks fed by this level inhibited for a stated time, by whoever may do so");
    add(
        true,
        "Isolation known: which valve holds what pressure, energy locked out, vented slowly, face turned away",
    );
    add(hazards.zoned, HAZARDOUS_AREA);
    add(hazards.pit, CONFINED_SPACE);
    add(
        instrument.liquid.drinking,
        "Drinking water: tape, gauge and fittings disinfected; nothing left in the tank",
    );
    add(true, HEIGHT);
    add(true, "Wet and electrical: enclosure dry, supply known, earth before a storm; weather watched");
    add(true, "Working alone: someone knows where you are and when you call next");
    list
}

/// Returns what must be back before a visit may be signed.
#[must_use]
pub fn back_items() -> Vec<String> {
    [
        "Valves back as they were; drains and vents closed; no leak",
        "Loop and pump control back in automatic",
        "Alarms and interlocks restored by whoever inhibited them",
        "Control room agrees with the level shown here",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// Returns the one line that stands before anything is scanned.
#[must_use]
pub fn before_scanning(instrument: &Instrument) -> Vec<Remark> {
    let hazards = &instrument.site.hazards;
    let mut said = Vec::new();
    if !hazards.phone_allowed {
        let text = "No phone may be used at this instrument.";
        said.push(Remark::danger(
            "hazard.no_phone",
            text,
            "Note the readings on paper and enter them from a safe place.",
        ));
    }
    if hazards.zoned {
        let text = "This is a zoned hazardous area.";
        said.push(Remark::danger(
            "hazard.zoned",
            text,
            "Only equipment marked for the zone, under the site's permit.",
        ));
    }
    if hazards.pit {
        let text = "The instrument stands in a pit: a confined space.";
        said.push(Remark::danger(
            "hazard.pit",
            text,
            "Enter only under the site's confined-space procedure.",
        ));
    }
    if !hazards.permit.is_empty() {
        let text = format!("Permit needed: {}.", hazards.permit);
        said.push(Remark::danger("hazard.permit", text, "Have it in hand before you begin."));
    }
    if !hazards.note.is_empty() {
        said.push(Remark::warning(Claim::Nothing, "hazard.note", hazards.note.clone(), ""));
    }
    let liquid = format!("Liquid: {}.", instrument.liquid.name);
    said.push(Remark::note("hazard.liquid", liquid));
    said.push(Remark::warning(
        Claim::Nothing,
        "hazard.ladder",
        "Never use the phone on a ladder.",
        "Stand somewhere safe first.",
    ));
    said
}

/// Returns why no visit may be made to this instrument at all.
#[must_use]
pub fn refusal(instrument: &Instrument) -> Option<Remark> {
    if instrument.safety_function {
        let text = "This loop trips or protects something. It has a procedure of its own and is not trimmed from here.";
        return Some(Remark::refusal(
            "refused.safety_function",
            text,
            "Follow the site's procedure for safety functions.",
        ));
    }
    if instrument.liquid.harmful {
        let text = "This liquid is hot, under pressure, toxic or flammable. It needs a procedure of its own.";
        return Some(Remark::refusal(
            "refused.harmful",
            text,
            "Follow the site's procedure for this service.",
        ));
    }
    None
}

/// Returns the cautions that head the Make safe step.
#[must_use]
pub fn cautions(instrument: &Instrument) -> Vec<Remark> {
    let text = "Local rules, permits and licensed practice come first. This list does not replace them.";
    let mut said = vec![Remark::danger("safe.local_rules", text, "")];
    said.extend(before_scanning(instrument).into_iter().filter(|remark| remark.code != "hazard.liquid"));
    said
}
