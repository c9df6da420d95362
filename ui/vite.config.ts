import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

export default defineConfig({
  plugins: [svelte()],
  // The port is the one that the shell's devUrl names: another would show an empty window.
  server: { port: 5173, strictPort: true },
  build: {
    // Webviews of phones that are still in the field.
    target: ["chrome109", "safari16"],
    modulePreload: { polyfill: false },
    // Fonts or pictures as data: URLs would need holes in the content policy.
    assetsInlineLimit: 0,
  },
});
