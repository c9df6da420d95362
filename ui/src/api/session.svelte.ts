// One visit as the screens hold it: the core's last view, and what the core has not confirmed yet.
import { answer, spotName } from "./spot";
import { faultOf } from "./fault";
import { Outbox } from "./outbox";
import { visitChange, visitOpen } from "./commands";
import type { Change, FieldView, Message, Step, VisitView } from "./types";

/** What could not be kept or done. */
export interface Refusal {
  message: Message;
  of: "change" | "look" | "sign";
  /** True for a text: it stays on the screen and can be sent again. */
  isText: boolean;
}

export class Session {
  /** What the core showed last. */
  view: VisitView;
  /** What is told to have been refused: until it could be done after all, or the person closes it. */
  refusal: Refusal | null = $state.raw(null);
  /** True while a person's own try again is under way. */
  retrying = $state(false);
  /** How often a person tried again. */
  tries = $state(0);
  /** True while anything typed is on its way. */
  busy = $state(false);
  /** How many texts the core could not keep. */
  unkept = $state(0);

  /** Counts changes of the outbox, which is not itself observed. */
  #moves = $state(0);
  /** Whether the last change was kept. */
  #lastKept = true;
  /** The spot whose refusal was told last, and the one where the person closed that. */
  #toldAt = "";
  #closedAt = "";
  readonly #outbox: Outbox;

  constructor(view: VisitView) {
    this.view = $state.raw(view);
    this.#outbox = new Outbox({
      send: (change) => visitChange(this.view.id, change),
      kept: (next) => this.#kept(next),
      refused: (message, change) => this.#refused(message, change),
      moved: () => this.#moved(),
    });
  }

  /** Returns what stands in a field: the newest typed text, or else what the core has. */
  textOf(field: FieldView): string {
    void this.#moves;
    return this.#outbox.textAt(spotName(field)) ?? field.text;
  }

  /** Returns true when the core's echo and doubts belong to the text that stands in the field now. */
  isCurrent(field: FieldView): boolean {
    return this.textOf(field) === field.text;
  }

  type(field: FieldView, text: string): void {
    this.#outbox.put(answer(field, text));
  }

  change(change: Change): void {
    this.#outbox.put(change);
  }

  go(step: Step): void {
    this.#outbox.put({ do: "go", step });
  }

  /** Sends again what could not be kept, and waits for what comes of it. */
  async retry(): Promise<void> {
    this.retrying = true;
    this.#closedAt = "";
    this.#outbox.retry();
    await this.#outbox.settled();
    this.retrying = false;
    this.tries += 1;
  }

  /** Takes the notice away; more of the same in the same field is not told again until something was kept. */
  close(): void {
    if (this.refusal?.of === "change") this.#closedAt = this.#toldAt;
    this.refusal = null;
  }

  refuseToSign(message: Message): void {
    this.refusal = { message, of: "sign", isText: false };
  }

  settled(): Promise<void> {
    return this.#outbox.settled();
  }

  /** Looks again, for what changes with time alone. A change under way brings a newer view anyway. */
  async refresh(): Promise<void> {
    if (this.#outbox.busy) return;
    try {
      const view = await visitOpen(this.view.id);
      if (this.#outbox.busy) return;
      this.view = view;
      if (this.refusal?.of === "look") this.refusal = null;
    } catch (error) {
      this.refusal ??= { message: faultOf(error), of: "look", isText: false };
    }
  }

  #kept(view: VisitView): void {
    this.view = view;
    this.#lastKept = true;
    this.#closedAt = "";
  }

  #refused(message: Message, change: Change): void {
    this.#lastKept = false;
    const isText = change.do === "answer";
    this.#toldAt = isText ? spotName(change) : "";
    if (isText && this.#toldAt === this.#closedAt) return;
    this.refusal = { message, of: "change", isText };
  }

  #moved(): void {
    this.#moves += 1;
    this.busy = this.#outbox.busy;
    this.unkept = this.#outbox.unkept;
    const isOver = this.#lastKept && !this.busy && this.unkept === 0;
    if (isOver && this.refusal?.of === "change") this.refusal = null;
  }
}
