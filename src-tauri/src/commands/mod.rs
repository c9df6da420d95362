//! The commands, as the pages call them. Each hands its arguments to one method of the phone.

pub(crate) mod camera;
pub(crate) mod finding;
pub(crate) mod home;
pub(crate) mod labels;
pub(crate) mod pin;
pub(crate) mod planning;
pub(crate) mod records;
pub(crate) mod sending;
pub(crate) mod uploads;
pub(crate) mod visits;
