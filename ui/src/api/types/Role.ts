// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What a shape or text stands for; the page gives each role its look.
 */
export type Role = "wall" | "liquid" | "light" | "fill" | "surface" | "datum" | "dimension" | "transmitter" | "ground" | "shown" | "label" | "axis" | "measured" | "passed" | "trend";
