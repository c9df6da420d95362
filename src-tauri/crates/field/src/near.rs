//! What is near: by the phone's position and the register's, or by site where there is none.
//!
//! The position is used for this one answer and kept nowhere.

use std::collections::BTreeMap;

use domain::quantity::{LengthSystem, Position, print_decimal};
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::{foot, kilometer, meter, mile};

use crate::counted::counted;
use crate::message::saying;
use crate::view::{Grade, Hit, Message, NearSite, NearView};
use crate::{Error, Phone};

/// How many instruments are listed at most: nobody looks through more, and the search is there. Sites are all listed.
const MOST: usize = 60;
/// How many are listed of a site that a person opened.
const MOST_AT_SITE: usize = 200;

/// Half the width of the bands of latitude that are looked through, in degrees. The last one is the whole Earth.
const BANDS: [f64; 4] = [0.05, 0.5, 5.0, 180.0];

/// An instrument at a distance.
struct Away {
    hit: Hit,
    distance: Length,
    people: LengthSystem,
}

impl Phone {
    /// Returns the instruments near a position, by site, the nearest first. Without a position, or where the register has
    /// none, all sites are listed, the one used last first; where they have many instruments they are closed.
    ///
    /// `accuracy` is the radius that the phone gives with its position, in metres.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn near(&self, position: Option<[f64; 2]>, accuracy: f64) -> Result<NearView, Error> {
        let here = position.and_then(|[latitude, longitude]| {
            Position::new(Angle::new::<degree>(latitude), Angle::new::<degree>(longitude))
        });
        let Some(here) = here else {
            return self.by_site("near.no_position", "The phone gave no position.");
        };
        let away = self.away(here)?;
        if away.is_empty() {
            return self.by_site("near.no_positions", "The register has no positions.");
        }
        let (listed, all) = (away.len(), self.index()?.count());
        let sites = grouped(away);
        self.offer_near(sites.iter().flat_map(|site| &site.hits));
        Ok(NearView { sites, message: known_within(accuracy, listed, all) })
    }

    /// Opens a site: returns its instruments. What is at it counts as near from then on.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn near_site(&self, site: &str) -> Result<NearSite, Error> {
        let index = self.index()?;
        let site = opened(site, index.hits().filter(|hit| hit.site == site).collect());
        self.offer_near(&site.hits);
        Ok(site)
    }

    /// Returns the instruments that have a position, the nearest first. Looked through are those of about the same
    /// latitude, in wider bands until there are enough that are nearer than anything outside of the band can be.
    fn away(&self, here: Position) -> Result<Vec<Away>, Error> {
        let mut away = Vec::new();
        for degrees in BANDS {
            away = self.away_within(here, degrees)?;
            let reach = reach(here, degrees);
            if away.iter().filter(|one| reach.is_some_and(|reach| one.distance < reach)).count() >= MOST {
                break;
            }
        }
        // Stable, so that two at one place stay in the order of their tags.
        away.sort_by(|one, other| one.distance.value.total_cmp(&other.distance.value));
        away.truncate(MOST);
        Ok(away)
    }

    fn away_within(&self, here: Position, degrees: f64) -> Result<Vec<Away>, Error> {
        let index = self.index()?;
        let mut away: Vec<Away> = Vec::new();
        for line in self.store().standing_within(here, degrees)? {
            let Some((position, hit)) = line.position().zip(index.hit_of(&line.key)) else { continue };
            let people = if line.feet { LengthSystem::Feet } else { LengthSystem::Metres };
            away.push(Away { hit, distance: here.distance(position), people });
        }
        Ok(away)
    }

    fn by_site(&self, code: &str, why: &str) -> Result<NearView, Error> {
        let last = self.recent()?.into_iter().next().map(|hit| hit.site);
        let mut sites: BTreeMap<String, Vec<Hit>> = BTreeMap::new();
        for hit in self.index()?.hits() {
            sites.entry(hit.site.clone()).or_default().push(hit);
        }
        let few = sites.values().map(Vec::len).sum::<usize>() <= MOST;
        let is_last = |site: &String| Some(site) == last.as_ref();
        let shown = sites.into_iter().map(|(site, hits)| {
            if few || is_last(&site) { opened(&site, hits) } else { closed(site, hits.len()) }
        });
        let mut sites: Vec<NearSite> = shown.collect();
        // Stable: behind the one used last they stay by name.
        sites.sort_by_key(|site| !is_last(&site.site));
        let text = format!("{why} Instruments are listed by site, the one used last first.");
        let remedy = if few { "" } else { "Open a site to see its instruments, or type part of the tag." };
        Ok(NearView { sites, message: saying(code, Grade::Note, &text, remedy) })
    }
}

/// The distance that anything outside of a band of latitude is away at least.
fn reach(here: Position, degrees: f64) -> Option<Length> {
    // Towards the equator, where there always is such a place while the band is narrower than the Earth.
    let towards = if here.latitude.value > 0.0 { -degrees } else { degrees };
    let edge = Position::new(here.latitude + Angle::new::<degree>(towards), here.longitude)?;
    Some(here.distance(edge))
}

/// Puts the instruments of one site together; the sites keep the order of their nearest one.
fn grouped(away: Vec<Away>) -> Vec<NearSite> {
    let mut sites: Vec<NearSite> = Vec::new();
    for Away { mut hit, distance, people } in away {
        let far = told(distance, people);
        match sites.iter_mut().find(|site| site.site == hit.site) {
            Some(site) => {
                if site.away != far {
                    hit.beside = far;
                }
                site.hits.push(hit);
            }
            None => {
                let site = hit.site.clone();
                sites.push(NearSite {
                    site,
                    away: far,
                    holds: String::new(),
                    hits: vec![hit],
                    rest: String::new(),
                });
            }
        }
    }
    sites
}

fn opened(site: &str, mut hits: Vec<Hit>) -> NearSite {
    let (holds, left_out) = (counted(hits.len(), "instrument"), hits.len().saturating_sub(MOST_AT_SITE));
    hits.truncate(MOST_AT_SITE);
    let rest = match left_out {
        0 => String::new(),
        more => format!("{more} more are at this site. Type part of the tag to find one."),
    };
    NearSite { site: site.to_owned(), away: String::new(), holds, hits, rest }
}

fn closed(site: String, count: usize) -> NearSite {
    let holds = counted(count, "instrument");
    NearSite { site, away: String::new(), holds, hits: Vec::new(), rest: String::new() }
}

/// A distance in words: nobody walks by the decimal.
fn told(distance: Length, people: LengthSystem) -> String {
    let (near, far) = match people {
        LengthSystem::Feet => ((distance.get::<foot>(), "ft", 1000.0), (distance.get::<mile>(), "mi")),
        LengthSystem::Metres => ((distance.get::<meter>(), "m", 1000.0), (distance.get::<kilometer>(), "km")),
    };
    let (number, unit, most) = near;
    if number < most {
        // Whole tens: a phone knows its place no better.
        return format!("{} {unit} away", print_decimal((number / 10.0).round() * 10.0, 0));
    }
    let decimals = if far.0 < 10.0 { 1 } else { 0 };
    format!("{} {} away", print_decimal(far.0, decimals), far.1)
}

fn known_within(accuracy: f64, listed: usize, all: usize) -> Message {
    let mut text = if accuracy.is_finite() && accuracy > 0.0 {
        format!("The phone knows its position within {} m.", print_decimal(accuracy, 0))
    } else {
        "How well the phone knows its position it did not say.".to_owned()
    };
    let mut remedy = "The plate says which instrument it is, not the distance.".to_owned();
    if listed < all {
        text.push_str(&format!(" {listed} of {all} instruments are listed, the nearest."));
        remedy.push_str(" Type part of the tag to find any other.");
    }
    saying("near.position", Grade::Note, &text, &remedy)
}
