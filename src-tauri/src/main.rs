//! The desktop stand-in's entry; phones enter through the library.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    headmark_shell::run();
}
