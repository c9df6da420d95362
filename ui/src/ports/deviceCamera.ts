// The device's own camera, by what webviews offer.
import type { Camera, NoCamera, Opened, Torch } from "./camera";
import { frameOf } from "./gray";

const wanted: MediaStreamConstraints = {
  audio: false,
  video: { facingMode: { ideal: "environment" }, width: { ideal: 1280 }, height: { ideal: 720 } },
};

/** Opens it; its frames are squares of a side. A person may refuse; a machine may have none, or lend it to another app. */
export async function deviceCamera(side: number, unwanted: AbortSignal): Promise<Opened> {
  // Older webviews, and pages not trusted with a camera, have no such thing at all.
  const devices: unknown = Reflect.get(navigator, "mediaDevices");
  if (!(devices instanceof MediaDevices)) return { none: "absent" };
  try {
    return { camera: await of(await devices.getUserMedia(wanted), side, unwanted) };
  } catch (error) {
    return { none: why(error) };
  }
}

function why(error: unknown): NoCamera {
  const name = error instanceof DOMException ? error.name : "";
  if (name === "NotAllowedError" || name === "SecurityError") return "refused";
  return name === "NotReadableError" || name === "AbortError" ? "busy" : "absent";
}

/** Whatever goes wrong on the way, a camera that is not handed out is given back. */
async function of(stream: MediaStream, side: number, unwanted: AbortSignal): Promise<Camera> {
  const video = document.createElement("video");
  const stop = () => {
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
  unwanted.addEventListener("abort", stop);
  try {
    if (unwanted.aborted) throw new DOMException("It is no longer wanted.", "AbortError");
    video.muted = true;
    video.playsInline = true;
    video.srcObject = stream;
    await video.play();
    return { picture: video, torch: torchOf(stream), frame: framesOf(video, side), stop };
  } catch (error) {
    stop();
    throw error;
  } finally {
    unwanted.removeEventListener("abort", stop);
  }
}

function framesOf(video: HTMLVideoElement, side: number): Camera["frame"] {
  const canvas = document.createElement("canvas");
  canvas.width = side;
  canvas.height = side;
  const paper = canvas.getContext("2d", { willReadFrequently: true });
  return () => {
    const { videoWidth: width, videoHeight: height } = video;
    if (!paper || width === 0 || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA)
      return Promise.resolve(null);
    // The square in the middle is what the guide shows.
    const from = Math.min(width, height);
    paper.drawImage(video, (width - from) / 2, (height - from) / 2, from, from, 0, 0, side, side);
    return Promise.resolve(frameOf(paper.getImageData(0, 0, side, side)));
  };
}

/** The lamp is a property of the picture's track: only some devices tell of one, and not every webview can be asked. */
function torchOf(stream: MediaStream): Torch | null {
  const track = stream.getVideoTracks().find((one) => {
    const told: unknown = Reflect.get(one, "getCapabilities");
    return typeof told === "function" && Reflect.get(one.getCapabilities(), "torch") === true;
  });
  if (!track) return null;
  const turn = async (on: boolean) => {
    const lamp: MediaTrackConstraintSet & { torch: boolean } = { torch: on };
    await track.applyConstraints({ advanced: [lamp] });
  };
  return { turn };
}
