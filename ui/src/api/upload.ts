// A file on its way to the core, in pieces: whole pictures do not cross the command border.
import { uploadBegin, uploadDrop, uploadPiece } from "./commands";
import { fileFault } from "./fault";

/** Bytes of a piece; the core takes no larger one. Divisible by three, so no piece carries padding. */
const PIECE = 48 * 1024;

function base64(piece: Blob): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onerror = () => reject(fileFault());
    reader.onload = () => {
      const url = typeof reader.result === "string" ? reader.result : "";
      resolve(url.slice(url.indexOf(",") + 1));
    };
    reader.readAsDataURL(piece);
  });
}

/**
 * Sends a file piece by piece and returns the upload's id.
 *
 * `progress` is told the part sent, from 0 to 1. An upload that fails is dropped in the core too.
 */
export async function sendFile(file: File, progress: (part: number) => void): Promise<string> {
  const upload = await uploadBegin(file.name, file.size);
  try {
    for (let at = 0; at < file.size; at += PIECE) {
      const piece = file.slice(at, Math.min(at + PIECE, file.size));
      await uploadPiece(upload, at, await base64(piece));
      progress((at + piece.size) / file.size);
    }
    return upload;
  } catch (error) {
    // The first failure is the one to tell; that the dropping fails too would add nothing.
    await uploadDrop(upload).catch(() => null);
    throw error;
  }
}
