// Which field the number pad writes into, and how a key changes it.
//
// The pad changes the input itself and then lets it speak, as the phone's keyboard would: typed on the pad or
// on a keyboard, a text goes one way.
import type { FieldKind } from "../../api/types";

export interface PadField {
  input: HTMLInputElement;
  kind: FieldKind;
  label: string;
}

export class Pad {
  field: PadField | null = $state.raw(null);

  open(field: PadField): void {
    this.field = field;
  }

  close(): void {
    this.field?.input.blur();
    this.field = null;
  }

  /** Puts the pad away with a field that has left the screen. */
  forget(input: HTMLInputElement): void {
    if (this.field?.input === input) this.field = null;
  }

  insert(text: string): void {
    const input = this.field?.input;
    if (!input) return;
    const { start, end } = caret(input);
    input.setRangeText(text, start, end, "end");
    this.#spoke(input);
  }

  /** Puts a fraction behind the whole inches or feet that stand before it, a space apart. */
  insertFraction(fraction: string): void {
    const input = this.field?.input;
    if (!input) return;
    const before = input.value.slice(0, caret(input).start);
    this.insert(/\d$/.test(before) ? ` ${fraction}` : fraction);
  }

  backspace(): void {
    const input = this.field?.input;
    if (!input) return;
    const { start, end } = caret(input);
    input.setRangeText("", start === end ? Math.max(0, start - 1) : start, end, "end");
    this.#spoke(input);
  }

  clear(): void {
    const input = this.field?.input;
    if (!input) return;
    input.value = "";
    this.#spoke(input);
  }

  /** Turns the sign over. */
  sign(): void {
    const input = this.field?.input;
    if (!input) return;
    const text = input.value.trimStart();
    input.value = text.startsWith("-") ? text.slice(1) : `-${text}`;
    this.#spoke(input);
  }

  /** Goes to the next field of the screen that takes a number, or puts the pad away after the last. */
  next(): void {
    const following = this.following();
    if (following) following.focus();
    else this.close();
  }

  following(): HTMLInputElement | null {
    const found = document.querySelectorAll<HTMLInputElement>("input[inputmode=none]");
    // What lies in a closed part of the screen takes no focus.
    const all = [...found].filter((input) => input.checkVisibility());
    const at = all.findIndex((input) => input === this.field?.input);
    return at < 0 ? null : (all[at + 1] ?? null);
  }

  #spoke(input: HTMLInputElement): void {
    input.dispatchEvent(new Event("input", { bubbles: true }));
    input.focus();
  }
}

function caret(input: HTMLInputElement): { start: number; end: number } {
  const end = input.value.length;
  return { start: input.selectionStart ?? end, end: input.selectionEnd ?? end };
}
