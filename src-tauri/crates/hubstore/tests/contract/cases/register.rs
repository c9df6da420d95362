//! The register.

use hubstore::{AnyStore, Change, Put, Register, Row, Rows, Version};

fn row(tag: &str, area: &str, says: &str) -> Row {
    Row { tag: tag.into(), area: area.into(), bytes: says.as_bytes().to_vec() }
}

fn change(version: u64, area: &str, tag: &str, says: Option<&str>) -> Change {
    let row = says.map(|says| says.as_bytes().to_vec());
    Change { version: Version(version), area: area.into(), tag: tag.into(), row }
}

async fn changes(store: &AnyStore, area: &str, after: u64) -> Vec<Change> {
    store.changes(area, Version(after), 100).await.unwrap()
}

pub(crate) async fn only_what_changes_takes_a_number(store: &AnyStore) {
    let rows = vec![row("LT-1", "north", "a"), row("LT-2", "south", "b")];
    let put = store.put_rows(Rows::Some(rows.clone())).await.unwrap();
    assert_eq!(put, Put { added: 2, version: Version(2), ..Put::default() });
    let put = store.put_rows(Rows::Some(rows)).await.unwrap();
    assert_eq!(put, Put { same: 2, version: Version(2), ..Put::default() });
    let put = store.put_rows(Rows::Some(vec![row("LT-1", "north", "A"), row("LT-3", "north", "c")])).await;
    assert_eq!(put.unwrap(), Put { added: 1, changed: 1, version: Version(4), ..Put::default() });
    let north = [change(3, "north", "LT-1", Some("A")), change(4, "north", "LT-3", Some("c"))];
    assert_eq!(changes(store, "north", 0).await, north);
    assert_eq!(changes(store, "north", 3).await, north[1..]);
    assert_eq!(changes(store, "east", 0).await, []);
    assert_eq!(store.areas().await.unwrap(), [("north".into(), Version(4)), ("south".into(), Version(2))]);
    // A tag given twice counts once, by its last row.
    let twice = store.put_rows(Rows::Some(vec![row("LT-2", "south", "x"), row("LT-2", "south", "b")])).await;
    assert_eq!(twice.unwrap().same, 1);
    let history = [change(1, "north", "LT-1", Some("a")), change(3, "north", "LT-1", Some("A"))];
    assert_eq!(store.history("LT-1").await.unwrap(), history);
}

pub(crate) async fn a_move_is_a_removal_and_a_whole_row(store: &AnyStore) {
    store.put_rows(Rows::Some(vec![row("LT-1", "north", "a")])).await.unwrap();
    let put = store.put_rows(Rows::Some(vec![row("LT-1", "south", "a")])).await.unwrap();
    assert_eq!(put, Put { moved: 1, version: Version(3), ..Put::default() });
    assert_eq!(put.before(), Version(1));
    assert_eq!(changes(store, "north", 1).await, [change(2, "north", "LT-1", None)]);
    assert_eq!(changes(store, "south", 0).await, [change(3, "south", "LT-1", Some("a"))]);
    assert_eq!(store.row("LT-1").await.unwrap(), Some(row("LT-1", "south", "a")));
    // And back again: the removal is overtaken by the row.
    store.put_rows(Rows::Some(vec![row("LT-1", "north", "a")])).await.unwrap();
    assert_eq!(changes(store, "north", 0).await, [change(5, "north", "LT-1", Some("a"))]);
    assert_eq!(changes(store, "south", 0).await, [change(4, "south", "LT-1", None)]);
    assert_eq!(store.history("LT-1").await.unwrap().len(), 5);
}

pub(crate) async fn the_whole_register_removes_the_rest(store: &AnyStore) {
    let rows = vec![row("LT-1", "north", "a"), row("LT-2", "north", "b"), row("lt-3", "south", "c")];
    store.put_rows(Rows::All(rows)).await.unwrap();
    let put =
        store.put_rows(Rows::All(vec![row("LT-2", "north", "b"), row("LT-4", "north", "d")])).await.unwrap();
    assert_eq!(put, Put { added: 1, removed: 2, same: 1, version: Version(6), ..Put::default() });
    assert_eq!(store.row("LT-1").await.unwrap(), None);
    assert_eq!(store.rows("", 9).await.unwrap(), [row("LT-2", "north", "b"), row("LT-4", "north", "d")]);
    let put = store.put_rows(Rows::Remove(vec!["LT-4".into(), "LT-4".into(), "LT-9".into()])).await.unwrap();
    assert_eq!(put, Put { removed: 1, version: Version(7), ..Put::default() });
    assert_eq!(changes(store, "north", 6).await, [change(7, "north", "LT-4", None)]);
    // What was removed and comes again is new.
    assert_eq!(store.put_rows(Rows::Some(vec![row("LT-4", "north", "d")])).await.unwrap().added, 1);
}

pub(crate) async fn changes_come_in_pages(store: &AnyStore) {
    // By bytes, on every store: capitals before small letters, whatever the system's language.
    let tags = ["A-1", "B-1", "a-1", "b-1", "\u{e9}-1"];
    let rows = tags.iter().rev().map(|tag| row(tag, "north", "x")).collect();
    store.put_rows(Rows::Some(rows)).await.unwrap();
    let page = store.rows("", 2).await.unwrap();
    assert_eq!(page.iter().map(|row| row.tag.as_str()).collect::<Vec<_>>(), ["A-1", "B-1"]);
    let page = store.rows("B-1", 9).await.unwrap();
    assert_eq!(page.iter().map(|row| row.tag.as_str()).collect::<Vec<_>>(), tags[2..]);
    let page = store.changes("north", Version(1), 2).await.unwrap();
    assert_eq!(page.iter().map(|change| change.version.0).collect::<Vec<_>>(), [2, 3]);
}
