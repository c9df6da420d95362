// A view that stays the newest: asked for again when the core says that something changed, and undone by no late answer.
import { untrack } from "svelte";
import { news } from "./news.svelte";

export class Latest<View> {
  /** What was answered last. */
  view: View;
  /** What had changed when it was asked for. */
  #seen: number;
  /** Counts what was asked. */
  #asked = 0;

  constructor(view: View, seen: number) {
    this.view = $state.raw(view);
    this.#seen = seen;
  }

  /** Calls `look` where something changed since the view was asked for. Runs in an effect. */
  follow(look: () => Promise<void>): void {
    if (news.changes === this.#seen) return;
    this.#seen = news.changes;
    untrack(() => void look());
  }

  /** Asks, and shows the answer unless something was asked after it. */
  async ask(asked: () => Promise<View>): Promise<void> {
    const turn = ++this.#asked;
    const view = await asked();
    if (turn === this.#asked) this.view = view;
  }
}
