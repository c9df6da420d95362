//! What a person does with the phone, over a real store: no stand-in below the ports.

mod desk;
mod finding;
mod opening;
mod records;
mod register;
mod visits;
