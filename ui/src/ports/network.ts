// What kind of connection there is, as far as the platform tells, and when that changes.
import type { Network } from "../api/types";

/** What some platforms tell beside being online. */
interface Connection extends EventTarget {
  type?: string;
  saveData?: boolean;
}

function connection(): Connection | null {
  const told: unknown = Reflect.get(navigator, "connection");
  return told instanceof EventTarget ? told : null;
}

/** Returns what kind of connection there is now. */
export function networkNow(): Network {
  if (!navigator.onLine) return "none";
  const told = connection();
  if (told?.saveData || told?.type === "cellular") return "metered";
  if (told?.type === "wifi" || told?.type === "ethernet") return "unmetered";
  return "unknown";
}

/** Calls back now and at every change; returns how to stop. */
export function watchNetwork(changed: (network: Network) => void): () => void {
  const tell = () => changed(networkNow());
  const told = connection();
  addEventListener("online", tell);
  addEventListener("offline", tell);
  told?.addEventListener("change", tell);
  tell();
  return () => {
    removeEventListener("online", tell);
    removeEventListener("offline", tell);
    told?.removeEventListener("change", tell);
  };
}
