//! A register as dense as a real plant's, and the slips by which people mistype its tags.
//!
//! Tags are made by the parts that ISA-5.1 gives them: an area's prefix, function letters, a loop's number and a
//! suffix where one loop has sisters. The standard allows both ways to number, and both are here: in a *works* one
//! sequence runs through an area whatever is measured; at a *site* each measured variable has a sequence of its own.
//! How often each letter occurs and how many sisters there are is invented. Some tags differ only by what a search folds:
//! an indicator and a light of one loop (I and L), sites named so, and numbers parted in another place.

use std::collections::BTreeSet;
use std::path::Path;

use anyhow::Result;
use domain::visit::Instrument;
use store::{InstrumentRow, Listed, Opening, RegisterName, TagKey, Whereabouts};

use crate::camera::Chance;

/// An instrument of a dense register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plant {
    /// Its tag.
    pub tag: String,
    /// Its site or area.
    pub site: String,
    /// What it does there.
    pub service: String,
    /// Its serial number.
    pub serial: String,
    /// The day its next visit is due; empty for most.
    pub due: String,
}

/// Tags that a search folds into one, in either register.
pub const ALIKE: [[&str; 2]; 3] = [["FI-101", "FL-101"], ["LI-101", "LL-101"], ["LT-1-11", "LT-11-1"]];

/// The slips that are tried.
pub const SLIPS: [&str; 3] = ["wrong", "missing", "swapped"];

/// Returns `count` instruments numbered one sequence an area: 25 to 59 areas of some 2,000.
#[must_use]
pub fn works(count: usize) -> Vec<Plant> {
    let mut chance = Chance::from(5_001);
    let mut made = alike();
    for area in 10.. {
        for number in 1_001..1_951 {
            let variable = variable(&mut chance);
            let mut add = |letters: &str, suffix: &str| {
                made.push(plant(
                    format!("{area}-{variable}{letters}-{number}{suffix}"),
                    format!("Area {area}"),
                ));
            };
            if chance.part() < 0.12 {
                add("T", "A");
                add("T", "B");
            } else {
                add("T", "");
            }
            if chance.part() < 0.5 {
                add("IC", "");
            }
            if chance.part() < 0.45 {
                add("V", "");
            }
            if chance.part() < 0.04 {
                add("I", "");
                add("L", "");
            }
            if made.len() >= count {
                made.truncate(count);
                return made;
            }
        }
    }
    made
}

/// Returns `count` instruments at sites of 100, each variable numbered from 101.
#[must_use]
pub fn sites(count: usize) -> Vec<Plant> {
    let mut chance = Chance::from(5_002);
    let mut names = BTreeSet::new();
    let mut made = alike();
    while made.len() < count {
        let name: String = (0..3).map(|_| letter(&mut chance)).collect();
        if !names.insert(name.clone()) {
            continue;
        }
        let mut next = [101_u32; VARIABLES.len()];
        for _ in 0..100 {
            let variable = variable(&mut chance);
            for (known, number) in VARIABLES.iter().zip(&mut next) {
                if known.0 == variable {
                    made.push(plant(format!("{name}-{variable}T-{number}"), format!("Site {name}")));
                    *number += 1;
                }
            }
        }
    }
    made.truncate(count);
    made
}

fn alike() -> Vec<Plant> {
    ALIKE.iter().flatten().map(|tag| plant((*tag).to_owned(), "Gatehouse".to_owned())).collect()
}

/// What is measured, and the share of it below which chance picks it: pressure, temperature, flow, level, analysis.
const VARIABLES: [(char, f32); 5] = [('P', 0.30), ('T', 0.55), ('F', 0.75), ('L', 0.93), ('A', 1.01)];

fn variable(chance: &mut Chance) -> char {
    let part = chance.part();
    VARIABLES.iter().find(|(_, below)| part < *below).map_or('A', |(letter, _)| *letter)
}

fn plant(tag: String, site: String) -> Plant {
    let number = tag.bytes().fold(7_u32, |sum, byte| sum.wrapping_mul(31).wrapping_add(byte.into()));
    let (service, serial) = (format!("{site} duty"), format!("MW-{number:08}"));
    Plant { service, serial, due: String::new(), site, tag }
}

fn letter(chance: &mut Chance) -> char {
    char::from(b'A' + (chance.bits() % 26) as u8)
}

/// Returns a tag as someone mistypes it by one slip of [`SLIPS`]; none where the slip changes nothing.
///
/// A wrong character is one time in two a digit, else a letter.
#[must_use]
pub fn mistyped(tag: &str, slip: &str, chance: &mut Chance) -> Option<String> {
    let mut letters: Vec<char> = tag.chars().filter(|letter| letter.is_ascii_alphanumeric()).collect();
    let at = chance.bits() as usize % letters.len().max(1);
    match slip {
        "missing" => {
            letters.get(at)?;
            letters.remove(at);
        }
        "swapped" => {
            letters.get(at + 1)?;
            letters.swap(at, at + 1);
        }
        _ => {
            let wrong = if chance.part() < 0.5 {
                char::from(b'0' + (chance.bits() % 10) as u8)
            } else {
                letter(chance)
            };
            *letters.get_mut(at)? = wrong;
        }
    }
    let text: String = letters.into_iter().collect();
    (text != tag.replace('-', "")).then_some(text)
}

/// Puts a register into a data file. Its rows have the heads that a search reads; for the rest all are one real
/// instrument's.
///
/// # Errors
///
/// When the store refuses.
pub fn load(data_file: &Path, plants: &[Plant]) -> Result<()> {
    let store = Opening::at(data_file).open()?;
    let real = crate::instrument("LT-2041")?;
    let real = Instrument { position: String::new(), due: String::new(), work: String::new(), ..real };
    let name = RegisterName { name: "Dense".into(), dated: "2026-01-01".into() };
    let of = |plant: &Plant| {
        let (tag, serial, due) = (plant.tag.clone(), plant.serial.clone(), plant.due.clone());
        Instrument { tag, serial, due, ..real.clone() }
    };
    let bodies = plants.iter().map(|plant| serde_json::to_string(&of(plant)));
    let bodies: Vec<String> = bodies.collect::<Result<_, _>>()?;
    let due = plants.iter().filter(|plant| !plant.due.is_empty());
    let whereabouts = due.filter_map(|plant| Whereabouts::of(&of(plant)));
    let rows = plants.iter().zip(bodies).map(|(plant, body)| InstrumentRow {
        listed: Listed {
            key: TagKey(plant.tag.clone()),
            tag: plant.tag.clone(),
            service: plant.service.clone(),
            site: plant.site.clone(),
            serial: plant.serial.clone(),
        },
        codes: Vec::new(),
        body,
    });
    store.replace_register(&name, rows, whereabouts, &[])?;
    Ok(store.suspend()?)
}
