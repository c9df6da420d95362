// The app over a stand-in for the core, to look at every screen before and without the core.
// `?screen=<name>&theme=<sun|dark>&scale=<percent>`; never part of what is shipped.
import "../src/style/tokens.css";
import "../src/style/base.css";
import { mount } from "svelte";
import App from "../src/field/App.svelte";
import { wearTheme } from "../src/style/theme";
import { standAt, standIn } from "./core";
import { names, screenOf } from "./views";

declare global {
  interface Window {
    screenNames: string[];
  }
}

const asked = new URLSearchParams(location.search);
localStorage.setItem("headmark-theme", asked.get("theme") ?? "sun");
wearTheme();
document.documentElement.style.fontSize = `${Number(asked.get("scale") ?? "100") * 1.125}%`;

standIn();
window.screenNames = names;
const name = asked.get("screen") ?? "home";
const start = screenOf(name);
if (start) standAt(name, start);
const target = document.getElementById("app");
if (target && start) mount(App, { target, props: { start } });
