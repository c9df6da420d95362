// The one line that says where all records are. The core says when something changed; it is asked then, and only then.
import { listen } from "@tauri-apps/api/event";
import { exchangeNetwork, exchangeStatus } from "./commands";
import { faultOf } from "./fault";
import { watchNetwork } from "../ports/network";
import type { StatusView } from "./types";

/** The core's event. */
const CHANGED = "exchange";

export class News {
  status: StatusView | null = $state.raw(null);
  /** Counts what the core said to have changed, for screens that show more of it. */
  changes = $state(0);
  /** Counts what was asked, so that a late answer does not undo a newer one. */
  #asked = 0;

  /** Begins to watch, and returns how to stop. */
  watch(): () => void {
    const heard = listen(CHANGED, () => this.heard());
    const seen = watchNetwork((network) => void exchangeNetwork(network).catch(faultOf));
    void this.look();
    return () => {
      seen();
      void heard.then((stop) => stop());
    };
  }

  /** Something changed: whoever shows it looks again. */
  heard(): void {
    this.changes += 1;
    void this.look();
  }

  /** Asks the core. A line that cannot be had stays as it was: the screen below tells what fails. */
  async look(): Promise<void> {
    const turn = ++this.#asked;
    try {
      const status = await exchangeStatus();
      if (turn === this.#asked) this.status = status;
    } catch (error) {
      console.warn(faultOf(error).code);
    }
  }
}

export const news = new News();
