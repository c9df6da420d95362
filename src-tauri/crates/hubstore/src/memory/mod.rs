//! The store in memory: for simulations and tests, and the plainest telling of what the others do. Nothing outlives it.

mod access;
mod dump;
mod follows;
mod jobs;
mod ledger;
mod logs;
mod meta;
mod people;
mod photos;
mod register;
mod state;
mod visits;

pub use state::Memory;
