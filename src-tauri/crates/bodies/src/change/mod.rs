//! What people change at the hub itself, each change an entry.

mod body;
mod import;
mod key;
mod made;

pub use body::{CHANGE, CHANGE_VERSION, Change};
pub use import::{Import, RowsChanged, Table};
pub use made::{ChangeMade, PersonChange};
