// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Photos that may go, since the hub has signed that they are in its backup.
 */
export type MayGoView = {
/**
 * Which they are: "3 photos, 6.2 MB, are in the hub's backup and may go."
 */
says: string,
/**
 * The words of the button: "Free 6.2 MB".
 */
button: string,
/**
 * What is asked first: "Take 3 photos off this phone?"
 */
ask: string,
/**
 * What is lost on the phone by that, and what stays.
 */
means: string, };
