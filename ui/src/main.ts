import "./style/tokens.css";
import "./style/base.css";
import { mount } from "svelte";
import App from "./field/App.svelte";
import { wearTheme } from "./style/theme";

wearTheme();
const target = document.getElementById("app");
if (target) mount(App, { target });
