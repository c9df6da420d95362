// A sound and a shake of the phone when a label led to its instrument, and another shake when the screen has something to
// say first: the eyes may be on the label, and the screen in the sun.

const LENGTH = 0.14;
const PITCH = 1760;

function beep() {
  const sounds = new AudioContext();
  const tone = sounds.createOscillator();
  const volume = sounds.createGain();
  tone.frequency.value = PITCH;
  volume.gain.setValueAtTime(0.25, sounds.currentTime);
  volume.gain.exponentialRampToValueAtTime(0.001, sounds.currentTime + LENGTH);
  tone.connect(volume).connect(sounds.destination);
  tone.onended = () => void sounds.close();
  tone.start();
  tone.stop(sounds.currentTime + LENGTH);
}

/** One long shake, or two short ones: told apart through a glove. */
const DONE = [80];
const LOOK = [40, 80, 40];

function shake(how: number[]) {
  if ("vibrate" in navigator) navigator.vibrate(how);
}

/** Tells without words that it did not lead to one instrument, and that the screen says why. */
export function callBack(): void {
  shake(LOOK);
}

/** Tells without words that it worked. A device that can do neither stays silent: the screen tells it too. */
export function succeed(): void {
  shake(DONE);
  try {
    if ("AudioContext" in window) beep();
  } catch (error) {
    console.warn("no sound could be made", error);
  }
}
