// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A recorded frame in shades of gray.
 */
export type RecordedFrame = {
/**
 * Width in pixels.
 */
width: number,
/**
 * Height in pixels.
 */
height: number,
/**
 * A byte a pixel, row by row, as base64.
 */
base64: string, };
