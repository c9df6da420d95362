// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { CameraSource } from "./CameraSource";

/**
 * The camera, and how large the frames are that the core takes.
 */
export type CameraView = {
/**
 * Where frames come from.
 */
source: CameraSource,
/**
 * Their side in pixels: the square in the middle of the camera's picture, made so large.
 */
side: number, };
