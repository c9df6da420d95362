//! A hub's database that knows of one photo, and pictures for it.

mod photo;

pub(crate) use photo::{citing, picture, pieces};
