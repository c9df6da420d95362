// Changes on their way to the core, one at a time, in the order they were made.
//
// Each keystroke is a change, and a phone may answer slower than a thumb types. So: only one change is under
// way at any time; a newer text for a spot takes the place of an older one that still waits; nothing else is
// ever taken out. A text that the core could not keep stays here, by its spot, until it is kept or replaced.
import type { Answer } from "./spot";
import { spotName } from "./spot";
import type { Change, Message, VisitView } from "./types";
import { faultOf } from "./fault";

export interface OutboxPorts {
  send(change: Change): Promise<VisitView>;
  /** A change is kept; this is what the visit looks like now. */
  kept(view: VisitView): void;
  /** A change was not kept. */
  refused(message: Message, change: Change): void;
  /** Something about what waits has changed. */
  moved(): void;
}

export class Outbox {
  #waiting: Change[] = [];
  #underWay: Change | null = null;
  /** Texts that the core could not keep, by spot. */
  #unkept = new Map<string, Answer>();

  constructor(private readonly ports: OutboxPorts) {}

  /** True while anything waits or is under way. */
  get busy(): boolean {
    return this.#underWay !== null || this.#waiting.length > 0;
  }

  /** How many texts the core could not keep. */
  get unkept(): number {
    return this.#unkept.size;
  }

  /** Returns the newest text for a spot that the core has not confirmed yet, if there is one. */
  textAt(spot: string): string | undefined {
    const isHere = (change: Change): change is Answer => change.do === "answer" && spotName(change) === spot;
    const waiting = this.#waiting.findLast(isHere);
    if (waiting) return waiting.text;
    if (this.#underWay && isHere(this.#underWay)) return this.#underWay.text;
    return this.#unkept.get(spot)?.text;
  }

  put(change: Change): void {
    if (change.do === "answer") this.#replaceWaiting(change);
    else this.#waiting.push(change);
    this.ports.moved();
    void this.#run();
  }

  /** Sends again what could not be kept. */
  retry(): void {
    const again = [...this.#unkept.values()];
    this.#unkept.clear();
    this.#waiting.unshift(...again);
    this.ports.moved();
    void this.#run();
  }

  /** Waits until nothing is under way. */
  async settled(): Promise<void> {
    while (this.busy) await new Promise((resolve) => setTimeout(resolve, 10));
  }

  #replaceWaiting(change: Answer): void {
    const spot = spotName(change);
    this.#unkept.delete(spot);
    const at = this.#waiting.findLastIndex((other) => other.do === "answer" && spotName(other) === spot);
    // An older text behind which the person went elsewhere keeps its place: order matters across a move.
    const behind = this.#waiting.slice(at + 1).some((other) => other.do !== "answer");
    if (at >= 0 && !behind) this.#waiting[at] = change;
    else this.#waiting.push(change);
  }

  async #run(): Promise<void> {
    if (this.#underWay) return;
    for (let change = this.#waiting.shift(); change; change = this.#waiting.shift()) {
      this.#underWay = change;
      await this.#sendOne(change);
      this.#underWay = null;
      this.ports.moved();
    }
  }

  async #sendOne(change: Change): Promise<void> {
    try {
      this.ports.kept(await this.ports.send(change));
    } catch (error) {
      this.#keepUnkept(change);
      this.ports.refused(faultOf(error), change);
    }
  }

  #keepUnkept(change: Change): void {
    if (change.do !== "answer") return;
    const spot = spotName(change);
    const newer = this.#waiting.some((other) => other.do === "answer" && spotName(other) === spot);
    if (!newer) this.#unkept.set(spot, change);
  }
}
