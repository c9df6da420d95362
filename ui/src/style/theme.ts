// The sun theme and the dark one: the phone's own wish at first, then whatever was chosen last.
export type Theme = "sun" | "dark";

const KEPT_AS = "headmark-theme";

function isTheme(text: string | null): text is Theme {
  return text === "sun" || text === "dark";
}

/** Returns the theme chosen here before, or the one the phone asks for. */
export function theme(): Theme {
  const kept = localStorage.getItem(KEPT_AS);
  if (isTheme(kept)) return kept;
  return matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "sun";
}

/** Puts the theme on. */
export function wearTheme(): void {
  document.documentElement.dataset.theme = theme();
}

/** Chooses the other theme and keeps the choice. */
export function otherTheme(): Theme {
  const other = theme() === "sun" ? "dark" : "sun";
  localStorage.setItem(KEPT_AS, other);
  wearTheme();
  return other;
}
