// The device's own camera, by what webviews offer.
import type { Camera, NoCamera, Opened, Torch } from "./camera";
import { frameOf, SIDE } from "./gray";

const wanted: MediaStreamConstraints = {
  audio: false,
  video: { facingMode: { ideal: "environment" }, width: { ideal: 1280 }, height: { ideal: 720 } },
};

/** Opens it. A person may refuse; a machine may have none, or lend it to another app. */
export async function deviceCamera(): Promise<Opened> {
  // Older webviews, and pages not trusted with a camera, have no such thing at all.
  const devices: unknown = Reflect.get(navigator, "mediaDevices");
  if (!(devices instanceof MediaDevices)) return { none: "absent" };
  try {
    return { camera: await of(await devices.getUserMedia(wanted)) };
  } catch (error) {
    return { none: why(error) };
  }
}

function why(error: unknown): NoCamera {
  const name = error instanceof DOMException ? error.name : "";
  if (name === "NotAllowedError" || name === "SecurityError") return "refused";
  return name === "NotReadableError" || name === "AbortError" ? "busy" : "absent";
}

async function of(stream: MediaStream): Promise<Camera> {
  const video = document.createElement("video");
  video.muted = true;
  video.playsInline = true;
  video.srcObject = stream;
  const canvas = document.createElement("canvas");
  canvas.width = SIDE;
  canvas.height = SIDE;
  const paper = canvas.getContext("2d", { willReadFrequently: true });
  const stop = () => {
    for (const track of stream.getTracks()) track.stop();
    video.srcObject = null;
  };
  try {
    await video.play();
  } catch (error) {
    stop();
    throw error;
  }
  return {
    picture: video,
    torch: torchOf(stream),
    frame: () => {
      const { videoWidth: width, videoHeight: height } = video;
      if (!paper || width === 0 || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA)
        return Promise.resolve(null);
      // The square in the middle is what the guide shows.
      const side = Math.min(width, height);
      paper.drawImage(video, (width - side) / 2, (height - side) / 2, side, side, 0, 0, SIDE, SIDE);
      return Promise.resolve(frameOf(paper.getImageData(0, 0, SIDE, SIDE)));
    },
    stop,
  };
}

/** The lamp is a property of the picture's track, and only some devices tell of one. */
function torchOf(stream: MediaStream): Torch | null {
  const track = stream.getVideoTracks().find((one) => Reflect.get(one.getCapabilities(), "torch") === true);
  if (!track) return null;
  const turn = async (on: boolean) => {
    const lamp: MediaTrackConstraintSet & { torch: boolean } = { torch: on };
    await track.applyConstraints({ advanced: [lamp] });
  };
  return { turn };
}
