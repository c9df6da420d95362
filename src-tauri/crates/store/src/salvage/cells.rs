//! The rows on a page: where its list of cells says, or, where that is broken, at any byte.

use super::pages::{PAGE, Pages, number};
use super::value::{self, Value};

/// A row that was read. Nothing is proved yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct RawRow {
    pub(super) rowid: i64,
    pub(super) values: Vec<Value>,
}

/// What the first byte of a page says: a table's leaf, which has rows; the other kinds have none.
const TABLE_LEAF: u8 = 0x0d;
const WITHOUT_ROWS: [u8; 3] = [0x02, 0x05, 0x0a];

/// The longest row there can be: an entry with its header, its columns and some room.
const LONGEST: u64 = 4 << 20;

/// Returns the rows on a page.
pub(super) fn rows(pages: &Pages, page_number: u32) -> Vec<RawRow> {
    let Some(page) = pages.page(page_number) else { return Vec::new() };
    let head = if page_number == 1 { 100 } else { 0 };
    let Some((&kind, _)) = page.get(head..).and_then(<[u8]>::split_first) else { return Vec::new() };
    if let Some(cells) = listed(page, head).filter(|_| kind == TABLE_LEAF) {
        let read: Option<Vec<RawRow>> = cells.iter().map(|at| row(pages, page, *at)).collect();
        if let Some(rows) = read {
            return rows;
        }
    } else if WITHOUT_ROWS.contains(&kind) && listed(page, head).is_some() {
        return Vec::new();
    }
    // Something is broken here. Rows that overlap are no trouble: each has to prove itself.
    (0..PAGE).filter_map(|at| row(pages, page, at)).collect()
}

/// Where a page says that its cells begin; none where that cannot be.
fn listed(page: &[u8], head: usize) -> Option<Vec<usize>> {
    let two = |at: usize| Some(usize::from(u16::from_be_bytes(page.get(at..at + 2)?.try_into().ok()?)));
    let leaf = matches!(page.get(head)?, 0x0a | 0x0d);
    let array = head + if leaf { 8 } else { 12 };
    let count = two(head + 3)?;
    let cells: Vec<usize> = (0..count).map(|cell| two(array + 2 * cell)).collect::<Option<_>>()?;
    let first = array + 2 * count;
    cells.iter().all(|at| (first..PAGE).contains(at)).then_some(cells)
}

/// Reads the row whose cell begins here.
fn row(pages: &Pages, page: &[u8], at: usize) -> Option<RawRow> {
    let mut rest = page.get(at..)?;
    let length = value::varint(&mut rest).filter(|length| (2..=LONGEST).contains(length))?;
    let rowid = value::varint(&mut rest)?.cast_signed();
    let length = usize::try_from(length).ok()?;
    let local = local(length);
    // Before anything is fetched from other pages: most places are no row at all.
    if !value::may_begin(rest) {
        return None;
    }
    let mut payload = rest.get(..local)?.to_vec();
    if local < length {
        let mut next = number(rest, local)?;
        while payload.len() < length {
            let over = pages.page(next)?;
            let take = (length - payload.len()).min(PAGE - 4);
            payload.extend_from_slice(over.get(4..4 + take)?);
            next = number(over, 0)?;
        }
    }
    Some(RawRow { rowid, values: value::record(&payload)? })
}

/// How many bytes of a row stand in its cell.
fn local(length: usize) -> usize {
    const MOST: usize = PAGE - 35;
    const LEAST: usize = (PAGE - 12) * 32 / 255 - 23;
    if length <= MOST {
        return length;
    }
    let fitting = LEAST + (length - LEAST) % (PAGE - 4);
    if fitting <= MOST { fitting } else { LEAST }
}
