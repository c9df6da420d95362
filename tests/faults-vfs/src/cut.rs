//! The power goes: what is left.
//!
//! Every file has what is stored for good and a queue of changes that are not. Going through the operations, a
//! sync moves a file's queue into what is stored. At the cut, each change that still waits is tossed for.

use std::collections::BTreeMap;

use crate::chance::Chance;
use crate::disk::{Files, Op, put};

/// The unit in which a write tears.
const SECTOR: usize = 512;

/// A change that is not stored for good yet.
#[derive(Debug, Clone)]
enum Waiting {
    Created,
    Written { at: usize, bytes: Vec<u8> },
    Truncated(usize),
    Removed,
}

/// A file, as far as the storage has it.
#[derive(Debug, Clone, Default)]
struct Node {
    stored: Option<Vec<u8>>,
    waiting: Vec<Waiting>,
}

/// A storage that follows the operations, ready to lose its power after any of them.
#[derive(Debug, Clone)]
pub struct Storage {
    nodes: Nodes,
}

type Nodes = BTreeMap<String, Node>;

impl Storage {
    /// Begins with these files, all of them stored for good.
    #[must_use]
    pub fn holding(files: &Files) -> Storage {
        let stored = |content: &Vec<u8>| Node { stored: Some(content.clone()), waiting: Vec::new() };
        Storage { nodes: files.iter().map(|(file, content)| (file.clone(), stored(content))).collect() }
    }

    /// Follows one operation.
    pub fn follow(&mut self, op: &Op) {
        let nodes = &mut self.nodes;
        match op {
            Op::Created { file } => wait(nodes, file, Waiting::Created),
            Op::Written { file, at, bytes } => {
                wait(nodes, file, Waiting::Written { at: *at, bytes: bytes.clone() });
            }
            Op::Truncated { file, length } => wait(nodes, file, Waiting::Truncated(*length)),
            Op::Removed { file, for_good } => {
                wait(nodes, file, Waiting::Removed);
                if *for_good {
                    sync_folder(nodes);
                }
            }
            Op::Renamed { from, to } => rename(nodes, from, to),
            Op::Synced { file } => sync(nodes, file),
            Op::Acknowledged(_) => {}
        }
    }

    /// Returns the files as they are when all that was written arrives: what a killed process leaves.
    #[must_use]
    pub fn as_written(&self) -> Files {
        let mut files = Files::new();
        for (file, node) in &self.nodes {
            let mut stored = node.stored.clone();
            node.waiting.iter().for_each(|change| store(&mut stored, change));
            files.extend(stored.map(|content| (file.clone(), content)));
        }
        files
    }

    /// Returns the files that are left when the power goes now.
    #[must_use]
    pub fn survivors(&self, chance: &mut Chance) -> Files {
        // Some storages keep nearly everything that waits and some nearly nothing; an even toss for each
        // change would hardly ever try either end.
        let kept = match chance.below(5) {
            0 => 0,
            1 => 10,
            2 => 50,
            3 => 90,
            _ => 100,
        };
        let torn = if chance.percent(50) { 40 } else { 0 };
        let mut files = Files::new();
        for (file, node) in &self.nodes {
            if let Some(content) = left(node, kept, torn, chance) {
                files.insert(file.clone(), content);
            }
        }
        files
    }
}

fn wait(nodes: &mut Nodes, file: &str, change: Waiting) {
    nodes.entry(file.to_owned()).or_default().waiting.push(change);
}

/// The name moves for good; what waits to be written goes on waiting under the new one.
fn rename(nodes: &mut Nodes, from: &str, to: &str) {
    sync_folder(nodes);
    if let Some(node) = nodes.remove(from) {
        nodes.insert(to.to_owned(), node);
    }
}

fn sync(nodes: &mut Nodes, file: &str) {
    let new = nodes.get(file).is_some_and(|node| {
        node.waiting.iter().any(|change| matches!(change, Waiting::Created | Waiting::Removed))
    });
    if new {
        sync_folder(nodes);
    }
    if let Some(node) = nodes.get_mut(file) {
        for change in std::mem::take(&mut node.waiting) {
            store(&mut node.stored, &change);
        }
    }
}

/// Makes what was created and removed so for good, and leaves the contents waiting.
fn sync_folder(nodes: &mut Nodes) {
    for node in nodes.values_mut() {
        if let Some(last) = node.waiting.iter().rposition(|change| matches!(change, Waiting::Removed)) {
            node.waiting.drain(..=last);
            node.stored = None;
        }
        if node.waiting.iter().any(|change| matches!(change, Waiting::Created)) {
            node.waiting.retain(|change| !matches!(change, Waiting::Created));
            node.stored.get_or_insert_default();
        }
    }
}

fn store(stored: &mut Option<Vec<u8>>, change: &Waiting) {
    match change {
        Waiting::Created => _ = stored.get_or_insert_default(),
        Waiting::Written { at, bytes } => put(stored.get_or_insert_default(), *at, bytes),
        Waiting::Truncated(length) => stored.get_or_insert_default().resize(*length, 0),
        Waiting::Removed => *stored = None,
    }
}

fn left(node: &Node, kept: u64, torn: u64, chance: &mut Chance) -> Option<Vec<u8>> {
    let mut stored = node.stored.clone();
    for change in &node.waiting {
        if !chance.percent(kept) {
            continue;
        }
        match change {
            Waiting::Written { at, bytes } if chance.percent(torn) => {
                tear(stored.get_or_insert_default(), *at, bytes, chance);
            }
            whole => store(&mut stored, whole),
        }
    }
    stored
}

/// Lets some sectors of a write arrive, some not, and some as noise.
fn tear(content: &mut Vec<u8>, at: usize, bytes: &[u8], chance: &mut Chance) {
    // The first piece ends where the storage's sector ends, not 512 bytes from where the write began.
    let first = (SECTOR - at % SECTOR).min(bytes.len());
    let (head, rest) = bytes.split_at_checked(first).unwrap_or((bytes, &[]));
    let mut place = at;
    for piece in std::iter::once(head).chain(rest.chunks(SECTOR)) {
        match chance.below(5) {
            0 | 1 => put(content, place, piece),
            2 => {
                let mut noise = piece.to_owned();
                chance.noise(&mut noise);
                put(content, place, &noise);
            }
            _ => {}
        }
        place += piece.len();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(at: usize, bytes: &[u8]) -> Op {
        Op::Written { file: "a".into(), at, bytes: bytes.to_owned() }
    }

    fn synced() -> Op {
        Op::Synced { file: "a".into() }
    }

    fn all_outcomes(start: &Files, ops: &[Op]) -> Vec<Option<Vec<u8>>> {
        let mut storage = Storage::holding(start);
        ops.iter().for_each(|op| storage.follow(op));
        let outcome = |toss| storage.survivors(&mut Chance::from(toss)).remove("a");
        let mut outcomes: Vec<_> = (0..400).map(outcome).collect();
        outcomes.sort();
        outcomes.dedup();
        outcomes
    }

    #[test]
    fn what_was_synced_is_there() {
        let ops = [Op::Created { file: "a".into() }, written(0, b"old"), synced()];
        assert_eq!(all_outcomes(&Files::new(), &ops), [Some(b"old".to_vec())]);
    }

    #[test]
    fn what_was_not_synced_is_there_or_not_in_any_order() {
        let start = Files::from([("a".to_owned(), b"....".to_vec())]);
        let outcomes = all_outcomes(&start, &[written(0, b"A"), written(3, b"D")]);
        for expected in ["....", "A...", "...D", "A..D"] {
            assert!(outcomes.contains(&Some(expected.into())), "{expected} never came up");
        }
    }

    #[test]
    fn a_torn_write_leaves_what_stands_beside_it() {
        let start = Files::from([("a".to_owned(), vec![b'.'; 2048])]);
        let outcomes = all_outcomes(&start, &[written(500, &[b'x'; 1036])]);
        let part = |content: &Vec<u8>| content[500..512] != content[512..524] && !content.contains(&0);
        assert!(outcomes.iter().flatten().any(part), "no write was ever torn");
        for content in outcomes.iter().flatten() {
            assert!(content[..500].iter().chain(&content[1536..]).all(|&byte| byte == b'.'));
        }
    }

    #[test]
    fn a_rename_takes_along_what_was_synced_and_what_was_not() {
        let start = Files::from([("b".to_owned(), b"old".to_vec())]);
        let renamed = Op::Renamed { from: "a".into(), to: "b".into() };
        let ops = |synced_first: bool| {
            let mut ops = vec![Op::Created { file: "a".into() }, written(0, b"new")];
            ops.extend(synced_first.then(synced));
            ops.push(renamed.clone());
            let mut storage = Storage::holding(&start);
            ops.iter().for_each(|op| storage.follow(op));
            let outcome = |toss| storage.survivors(&mut Chance::from(toss)).remove("b");
            (0..400).map(outcome).collect::<std::collections::BTreeSet<_>>()
        };
        assert_eq!(ops(true).into_iter().collect::<Vec<_>>(), [Some(b"new".to_vec())]);
        assert!(ops(false).contains(&Some(Vec::new())), "a name may arrive before what it names");
    }

    #[test]
    fn a_removal_may_be_undone_until_the_folder_is_synced() {
        let start = Files::from([("a".to_owned(), b"x".to_vec())]);
        let removed = |for_good| Op::Removed { file: "a".into(), for_good };
        assert_eq!(all_outcomes(&start, &[removed(false)]), [None, Some(b"x".to_vec())]);
        assert_eq!(all_outcomes(&start, &[removed(true)]), [None]);
        let another = [Op::Created { file: "b".into() }, Op::Synced { file: "b".into() }];
        let ops = [&[removed(false)], &another[..]].concat();
        assert_eq!(all_outcomes(&start, &ops), [None]);
    }
}
