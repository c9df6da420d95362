// Lists files below folders by the end of their names, sorted.
import { readdir } from "node:fs/promises";
import path from "node:path";

export async function glob(folders, endings) {
  const found = [];
  for (const folder of folders) {
    for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
      const wanted = endings.some((ending) => entry.name.endsWith(ending));
      if (entry.isFile() && wanted) found.push(path.join(entry.parentPath, entry.name));
    }
  }
  return found.sort();
}
