//! Generates what Tauri needs from `tauri.conf.json`.

fn main() {
    tauri_build::build();
}
