//! The register for a phone: pages of its areas, signed by the hub.

use std::collections::{BTreeMap, BTreeSet};

use ::exchange::message::Cursor;
use ::exchange::page::{Named, PEOPLE, Page, SENSORS, Upsert};
use bodies::Epoch;
use hubstore::{Change, Counted, HubPerson, HubStore, Version};
use minicbor::bytes::ByteVec;
use record::{LogId, Signer};

use crate::Error;
use crate::home::Hub;
use crate::register;

/// The most changes in one page: a page is small enough for one round on a bad link.
const CHANGES: u32 = 200;

/// Pages, as they go into an answer.
#[derive(Debug, Default)]
pub(super) struct Feed {
    pub(super) pages: Vec<ByteVec>,
    pub(super) more: bool,
}

/// Returns the next pages for a phone, up to about so many bytes. A phone that nobody vouches for, or that was revoked,
/// gets none.
pub(super) async fn feed<S, K, P>(
    hub: &Hub<S, K, P>,
    phone: LogId,
    at: &[Cursor],
    most: usize,
) -> Result<Feed, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let mut feed = Feed::default();
    let Some(areas) = areas(hub, phone).await? else { return Ok(feed) };
    let at: BTreeMap<&str, u64> = at.iter().map(|cursor| (cursor.area.as_str(), cursor.version)).collect();
    let mut bytes = 0;
    for (area, newest) in &areas {
        let mut from = at.get(area.as_str()).copied().unwrap_or(0);
        // A number above the newest is of another life of this hub: the area begins anew.
        if from > newest.0 {
            from = 0;
        }
        while from < newest.0 {
            if bytes >= most {
                feed.more = true;
                return Ok(feed);
            }
            let changes = hub.store.changes(area, Version(from), CHANGES).await?;
            let Some(page) = page(hub, area, from, changes) else { break };
            from = page.to;
            let signed = page.sign(&hub.signing.key)?;
            bytes += signed.len();
            feed.pages.push(signed.into());
        }
    }
    let sensors = if areas.is_empty() { None } else { register::sensors(&hub.store).await? };
    if let Some(sensors) = sensors.as_ref().filter(|now| at.get(SENSORS) != Some(&now.version.0)) {
        feed.pages.push(table(hub, sensors).sign(&hub.signing.key)?.into());
    }
    // The number first: whoever is written down in between comes once more with the next number.
    let named = hub.store.people_version().await?;
    if named > Version(0) && at.get(PEOPLE) != Some(&named.0) {
        let people = hub.store.persons().await?;
        feed.pages.push(names(hub, named, people).sign(&hub.signing.key)?.into());
    }
    let is_here =
        |area: &str| areas.contains_key(area) || area == PEOPLE || (area == SENSORS && sensors.is_some());
    // Whatever the number: of an area that this hub lost with its last life, the phone still has the rows.
    for area in at.keys().filter(|area| !is_here(area)) {
        feed.pages.push(left(hub, area).sign(&hub.signing.key)?.into());
    }
    Ok(feed)
}

/// The areas that a phone gets, each with the number of its newest change; none for a phone that gets nothing.
async fn areas<S, K, P>(hub: &Hub<S, K, P>, phone: LogId) -> Result<Option<BTreeMap<String, Version>>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: record::Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    let trust = trusted.trust();
    let Some(certificate) = trust.device(phone).filter(|_| trust.revoked(phone).is_none()) else {
        return Ok(None);
    };
    let certified: BTreeSet<String> = match &certificate.certified {
        bodies::Certified::Device { areas, .. } => areas.clone(),
        _ => BTreeSet::new(),
    };
    let all = hub.store.areas().await?;
    // Rows without an area are everybody's.
    let gets = |area: &String| certified.is_empty() || area.is_empty() || certified.contains(area);
    Ok(Some(all.into_iter().filter(|(area, _)| gets(area)).collect()))
}

fn page<S, K, P>(hub: &Hub<S, K, P>, area: &str, from: u64, changes: Vec<Change>) -> Option<Page> {
    let to = changes.last()?.version.0;
    let (mut upserts, mut removals) = (Vec::new(), Vec::new());
    for change in changes {
        match change.row {
            Some(row) => upserts.push(Upsert { tag: change.tag, row: row.into() }),
            // What begins anew has nothing to take away.
            None if from == 0 => {}
            None => removals.push(change.tag),
        }
    }
    Some(Page { from, to, snapshot: from == 0, upserts, removals, ..left(hub, area) })
}

/// The page that brings the names of people, all of them.
fn names<S, K, P>(hub: &Hub<S, K, P>, Version(to): Version, people: Vec<HubPerson>) -> Page {
    let named = |one: HubPerson| Named { person: one.id, name: one.name };
    let people = Some(people.into_iter().map(named).collect());
    Page { to, people, ..left(hub, PEOPLE) }
}

/// The page that brings the table of sensors.
fn table<S, K, P>(hub: &Hub<S, K, P>, now: &Counted) -> Page {
    Page { to: now.version.0, sensors: Some(now.value.clone().into()), ..left(hub, SENSORS) }
}

/// The page that empties an area which the phone no longer gets.
fn left<S, K, P>(hub: &Hub<S, K, P>, area: &str) -> Page {
    let epoch = Epoch(hub.identity.epoch.0);
    let (upserts, removals) = (Vec::new(), Vec::new());
    Page {
        epoch,
        area: area.to_owned(),
        from: 0,
        to: 0,
        snapshot: true,
        upserts,
        removals,
        sensors: None,
        people: None,
    }
}
