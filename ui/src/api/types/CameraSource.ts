// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Where the screen takes the camera's frames from.
 */
export type CameraSource = "device" | "recorded" | "refused";
