//! The numbers of the fields, as `BODIES.md` lists them.

pub(super) const WHAT: u64 = 1;
pub(super) const BY: u64 = 2;
pub(super) const TABLE: u64 = 3;
pub(super) const FILE: u64 = 4;
pub(super) const VERSIONS: u64 = 5;
pub(super) const ROWS: u64 = 6;
pub(super) const PERSON: u64 = 7;
pub(super) const ROLE: u64 = 8;
pub(super) const SIGNS_IN: u64 = 9;
pub(super) const PHONE: u64 = 10;
