// One visit as the screens hold it: the core's last view, and what the core has not confirmed yet.
import { answer, spotName } from "./spot";
import { faultOf } from "./fault";
import { Outbox } from "./outbox";
import { visitChange, visitOpen } from "./commands";
import type { Change, FieldView, Message, Step, VisitView } from "./types";

export class Session {
  /** What the core showed last. */
  view: VisitView;
  /** What could not be done, to be told once. */
  trouble: Message | null = $state(null);
  /** True while anything typed is on its way. */
  busy = $state(false);
  /** How many texts the core could not keep. */
  unkept = $state(0);

  /** Counts changes of the outbox, which is not itself observed. */
  #moves = $state(0);
  readonly #outbox: Outbox;

  constructor(view: VisitView) {
    this.view = $state.raw(view);
    this.#outbox = new Outbox({
      send: (change) => visitChange(this.view.id, change),
      kept: (next) => (this.view = next),
      refused: (message) => (this.trouble = message),
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

  retry(): void {
    this.trouble = null;
    this.#outbox.retry();
  }

  settled(): Promise<void> {
    return this.#outbox.settled();
  }

  /** Looks again, for what changes with time alone. A change under way brings a newer view anyway. */
  async refresh(): Promise<void> {
    if (this.#outbox.busy) return;
    try {
      const view = await visitOpen(this.view.id);
      if (!this.#outbox.busy) this.view = view;
    } catch (error) {
      this.trouble = faultOf(error);
    }
  }

  #moved(): void {
    this.#moves += 1;
    this.busy = this.#outbox.busy;
    this.unkept = this.#outbox.unkept;
  }
}
