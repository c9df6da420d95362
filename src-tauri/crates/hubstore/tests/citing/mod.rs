//! A hub's database that knows of one photo, and pictures for it.

mod photo;

#[allow(unused_imports, reason = "each test program uses its part of this")]
pub(crate) use photo::{cites, citing, picture, pieces};
