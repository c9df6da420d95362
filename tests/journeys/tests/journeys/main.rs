//! Journeys through the built app, two at a time: each is an app, its webview and a driver.

mod bad_input;
mod camera;
mod finding;
mod interrupted;
mod labels;
mod opens;
mod plan;
mod sending;
mod visits;
