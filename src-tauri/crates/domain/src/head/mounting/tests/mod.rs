//! Mountings against hand calculations and laws that hold for any of them. Published examples stand in the suite of
//! reference tests.

mod impossible;
mod measures;
mod presets;
mod properties;
mod sensitivity;
mod states;
