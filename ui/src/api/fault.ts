// Whatever a command failed with, as a message that can be shown.
import { words } from "../text/words";
import type { Message } from "./types";

function hasText(value: object, name: string): boolean {
  return typeof Reflect.get(value, name) === "string";
}

function isMessage(value: unknown): value is Message {
  return typeof value === "object" && value !== null && hasText(value, "text") && hasText(value, "remedy");
}

/** Returns the core's message, or one that admits that the app itself is at fault. */
export function faultOf(error: unknown): Message {
  if (isMessage(error)) return error;
  const detail = error instanceof Error ? error.message : String(error);
  return {
    code: "app.unexpected",
    grade: "refusal",
    text: `${words.unexpected} (${detail})`,
    remedy: words.unexpectedRemedy,
    reason: null,
  };
}

/** Returns the message for a file that the webview could not read. */
export function fileFault(): Message {
  return {
    code: "app.file_unread",
    grade: "refusal",
    text: words.fileUnread,
    remedy: words.fileUnreadRemedy,
    reason: null,
  };
}
