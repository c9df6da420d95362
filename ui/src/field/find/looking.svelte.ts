// Looking through the camera for a code: one frame after the other goes to the core until one tells something.
import { findFrame } from "../../api/commands";
import { faultOf } from "../../api/fault";
import type { CodeOutcome, Message } from "../../api/types";
import { openCamera } from "../../ports/camera";
import type { Camera, NoCamera } from "../../ports/camera";

/** After so long without a code the other ways are offered. */
const PATIENCE = 4000;
/** Between two frames the screen gets its turn. */
const REST = 30;

export type State = "opening" | "looking" | "resting" | NoCamera;

export class Looking {
  state: State = $state("opening");
  /** True when it has opened and looked for long enough: time for another way. */
  isLong = $state(false);
  isLit = $state(false);
  camera: Camera | null = $state.raw(null);
  /** What a frame could not be sent for. */
  trouble: Message | null = $state.raw(null);

  #patience: ReturnType<typeof setTimeout> | undefined;
  /** Ends an opening that nobody waits for any more. */
  #opening = new AbortController();

  /** Counts openings: what belongs to an earlier one has no say any more. */
  #turn = 0;

  constructor(private readonly told: (outcome: CodeOutcome) => void) {}

  async begin(): Promise<void> {
    const turn = this.#close();
    this.state = "opening";
    this.isLong = false;
    this.trouble = null;
    // A question whether the camera may be used, or a camera that does not start, keeps nobody from the other ways.
    this.#patience = setTimeout(() => (this.isLong = true), PATIENCE);
    this.#opening = new AbortController();
    try {
      const opened = await openCamera(this.#opening.signal);
      if (turn !== this.#turn) {
        if ("camera" in opened) opened.camera.stop();
        return;
      }
      if ("none" in opened) {
        clearTimeout(this.#patience);
        this.state = opened.none;
        return;
      }
      this.camera = opened.camera;
      this.state = "looking";
      await this.#look(opened.camera, turn);
    } catch (error) {
      if (turn !== this.#turn) return;
      this.#close();
      this.state = "resting";
      this.trouble = faultOf(error);
    }
  }

  /** Ends the use of the camera, when the screen is left, hidden, or something was read. */
  rest(): void {
    this.#close();
    this.state = "resting";
  }

  async light(on: boolean): Promise<void> {
    try {
      await this.camera?.torch?.turn(on);
      this.isLit = on;
    } catch (error) {
      this.trouble = faultOf(error);
    }
  }

  #close(): number {
    clearTimeout(this.#patience);
    this.#opening.abort();
    this.camera?.stop();
    this.camera = null;
    this.isLit = false;
    this.#turn += 1;
    return this.#turn;
  }

  async #look(camera: Camera, turn: number): Promise<void> {
    while (turn === this.#turn) {
      const frame = await camera.frame();
      const outcome = frame && turn === this.#turn ? await findFrame(frame) : null;
      if (turn !== this.#turn) return;
      if (outcome) {
        this.rest();
        this.told(outcome);
        return;
      }
      await new Promise((resolve) => setTimeout(resolve, REST));
    }
  }
}
