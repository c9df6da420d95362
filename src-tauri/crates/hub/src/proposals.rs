//! What phones propose to the register, side by side: what each would change, who claims the same, and what was decided.
//!
//! A proposal is open until a supervisor decides. One that was accepted and that the register does not say all the same
//! is open again: the hub was restored from before, or an import took it out. The whole register is read for a list with
//! open proposals in it, since another instrument may hold the same code anywhere.

use std::collections::{BTreeMap, BTreeSet};

use ::exchange::decided::Decided;
use ::exchange::trust::Standing;
use bodies::{Decision, PROPOSAL, Proposal, Proposed, RegisterRow};
use domain::visit::{Instrument, tag};
use hubstore::{Arrival, Filter, HubStore, Reading, StoredEntry};
use record::{Claimed, EntryId, Proof, Signer};

use crate::Error;
use crate::counting::Counting;
use crate::home::Hub;
use crate::proposed::{Change, applied, changes, is_settled_in};

/// How many rows of the register are read at once.
const ROWS: u32 = 1_000;

/// A proposal in the list.
#[derive(Debug, Clone)]
pub struct Line {
    /// When it came, among all records here.
    pub arrival: Arrival,
    /// Its name.
    pub id: EntryId,
    /// What is proposed, by whom, beside which register.
    pub proposal: Proposal,
    /// When it was signed, as the phone's clock claimed.
    pub claimed: Claimed,
    /// Whether it counts.
    pub standing: Standing,
    /// What was decided.
    pub decided: Option<Decided>,
    /// Whether it is still to be decided.
    pub open: bool,
    /// What accepting it would change in the register as it stands.
    pub changes: Vec<Change>,
    /// Why it cannot be accepted as the register stands; empty where it can.
    pub obstacle: String,
    /// The tags of other instruments that hold the same code, or the same serial number, in the register.
    pub holders: Vec<String>,
    /// Other open proposals for the same: who claims the code for another instrument, or names another unit.
    pub rivals: Vec<EntryId>,
}

impl Line {
    /// Returns the field that is proposed, as a register's own file names it, and its value.
    #[must_use]
    pub fn field(&self) -> (&'static str, &str) {
        match &self.proposal.what {
            Proposed::Code(code) => ("codes", code),
            Proposed::Unit(unit) => ("serial", &unit.serial),
        }
    }

    /// Returns what stands side by side: proposals of one code, or of a unit for one instrument.
    fn beside(&self) -> (&'static str, String) {
        match &self.proposal.what {
            Proposed::Code(code) => ("codes", code.trim().to_owned()),
            Proposed::Unit(_) => ("serial", tag::folded(&self.proposal.tag)),
        }
    }

    /// Returns whether another says something else of the same.
    fn is_against(&self, other: &Line) -> bool {
        let same_tag = tag::folded(&self.proposal.tag) == tag::folded(&other.proposal.tag);
        match (&self.proposal.what, &other.proposal.what) {
            (Proposed::Code(one), Proposed::Code(two)) => one.trim() == two.trim() && !same_tag,
            (Proposed::Unit(one), Proposed::Unit(two)) => same_tag && one.serial != two.serial,
            _ => false,
        }
    }
}

/// Returns the proposals, those that contradict each other side by side, the oldest first; the open ones, or all.
///
/// # Errors
///
/// What the store says.
pub async fn proposals<S, K, P>(hub: &Hub<S, K, P>, all: bool) -> Result<Vec<Line>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let mut lines = read(hub).await?;
    let register = Wanted::of(&lines).found(&hub.store).await?;
    for line in &mut lines {
        register.judge(line);
    }
    let open: Vec<Line> = lines.iter().filter(|line| line.open).cloned().collect();
    for line in lines.iter_mut().filter(|line| line.open) {
        let against = open.iter().filter(|other| other.id != line.id && line.is_against(other));
        line.rivals = against.map(|other| other.id).collect();
    }
    lines.retain(|line| all || line.open);
    Ok(side_by_side(lines))
}

fn side_by_side(lines: Vec<Line>) -> Vec<Line> {
    let mut groups: BTreeMap<(&'static str, String), Vec<Line>> = BTreeMap::new();
    for line in lines {
        groups.entry(line.beside()).or_default().push(line);
    }
    let mut groups: Vec<Vec<Line>> = groups.into_values().collect();
    // Each group holds one at least, oldest first.
    groups.sort_by_key(|group| group.first().map(|line| line.arrival));
    groups.into_iter().flatten().collect()
}

async fn read<S, K, P>(hub: &Hub<S, K, P>) -> Result<Vec<Line>, Error>
where
    S: HubStore,
    K: Signer + Send + Sync,
    P: Proof + Clone + Send + Sync + 'static,
{
    let trusted = hub.trusted().await?;
    let filter = Filter { kinds: vec![PROPOSAL], logs: Vec::new() };
    let mut counting = Counting::at(hub).await?;
    let (mut lines, mut reading) = (Vec::new(), Reading::all(filter));
    while let Some(entries) = reading.next(&hub.store).await? {
        for entry in &entries {
            // What a newer program proposed is kept, and shown once this one can read it.
            let Some((proposal, claimed)) = opened(entry) else { continue };
            lines.push(Line {
                arrival: entry.arrival,
                id: entry.id,
                proposal,
                claimed,
                standing: counting.standing(&entry.id).await?,
                decided: trusted.decided(&entry.id).cloned(),
                open: false,
                changes: Vec::new(),
                obstacle: String::new(),
                holders: Vec::new(),
                rivals: Vec::new(),
            });
        }
    }
    Ok(lines)
}

fn opened(entry: &StoredEntry) -> Option<(Proposal, Claimed)> {
    let entry = record::open(&entry.bytes).ok()?;
    Some((Proposal::of_entry(&entry).ok()?, entry.header.claimed))
}

/// What of the register is looked for.
struct Wanted<'l> {
    tags: BTreeSet<String>,
    codes: BTreeSet<&'l str>,
    serials: BTreeSet<&'l str>,
}

/// What of the register was found.
#[derive(Default)]
struct Found {
    rows: BTreeMap<String, Instrument>,
    codes: BTreeMap<String, BTreeSet<String>>,
    serials: BTreeMap<String, BTreeSet<String>>,
}

impl<'l> Wanted<'l> {
    /// Whatever has not been declined: of what was accepted it is looked up whether the register says it.
    fn of(lines: &'l [Line]) -> Wanted<'l> {
        let mut wanted = Wanted { tags: BTreeSet::new(), codes: BTreeSet::new(), serials: BTreeSet::new() };
        for line in lines.iter().filter(|line| line.decision() != Some(Decision::Declined)) {
            wanted.tags.insert(tag::folded(&line.proposal.tag));
            match &line.proposal.what {
                Proposed::Code(code) => wanted.codes.insert(code.trim()),
                Proposed::Unit(unit) => wanted.serials.insert(&unit.serial),
            };
        }
        wanted
    }

    async fn found(&self, store: &impl HubStore) -> Result<Found, Error> {
        let mut found = Found::default();
        let mut after = String::new();
        while !self.tags.is_empty() {
            let rows = store.rows(&after, ROWS).await?;
            let Some(last) = rows.last().map(|row| row.tag.clone()) else { break };
            for row in rows {
                // A row that this version cannot read claims nothing here.
                if let Ok(RegisterRow(instrument)) = RegisterRow::decode(&row.bytes) {
                    self.look(&row.tag, instrument, &mut found);
                }
            }
            after = last;
        }
        Ok(found)
    }

    fn look(&self, tag: &str, instrument: Instrument, found: &mut Found) {
        for code in instrument.codes.iter().map(|code| code.trim()).filter(|code| self.codes.contains(code)) {
            found.codes.entry(code.to_owned()).or_default().insert(tag.to_owned());
        }
        if self.serials.contains(instrument.serial.as_str()) {
            found.serials.entry(instrument.serial.clone()).or_default().insert(tag.to_owned());
        }
        let key = tag::folded(tag);
        if self.tags.contains(&key) {
            found.rows.insert(key, instrument);
        }
    }
}

impl Line {
    fn decision(&self) -> Option<Decision> {
        self.decided.as_ref().map(|decided| decided.decision)
    }
}

impl Found {
    /// Says whether a proposal is open, what it would change, and who stands against it.
    fn judge(&self, line: &mut Line) {
        let row = self.rows.get(&tag::folded(&line.proposal.tag));
        let says = row.is_some_and(|row| is_settled_in(row, &line.proposal.what));
        line.open = match line.decision() {
            None => true,
            Some(Decision::Accepted) => row.is_some() && !says,
            Some(_) => false,
        };
        if !line.open {
            return;
        }
        match row.map(|row| (row, applied(row.clone(), &line.proposal.what))) {
            None => "The register has no such instrument.".clone_into(&mut line.obstacle),
            Some((_, Err(why))) => line.obstacle = why,
            Some((row, Ok(made))) => line.changes = changes(row, &made),
        }
        if line.obstacle.is_empty() {
            no_count(line.standing).clone_into(&mut line.obstacle);
        }
        let holders = match &line.proposal.what {
            Proposed::Code(code) => self.codes.get(code.trim()),
            Proposed::Unit(unit) => self.serials.get(&unit.serial),
        };
        let own = tag::folded(&line.proposal.tag);
        let others = holders.into_iter().flatten().filter(|holder| tag::folded(holder) != own);
        line.holders = others.cloned().collect();
    }
}

/// Why a proposal counts in nothing; empty where it counts.
fn no_count(standing: Standing) -> &'static str {
    match standing {
        Standing::Counts | Standing::Adopted => "",
        Standing::Forked => {
            "The log of its phone is forked from there or before, so it counts in nothing until somebody decides."
        }
        Standing::Parked | Standing::AfterRevocation => {
            "Its phone was revoked before it, so it counts in nothing."
        }
    }
}
