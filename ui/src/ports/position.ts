// Where the phone is: asked for at a person's tap, used for one answer, and kept nowhere.

export interface Here {
  /** Latitude and longitude in degrees. */
  position: [number, number];
  /** How well that is known, in metres. */
  accuracy: number;
}

const asked: PositionOptions = { enableHighAccuracy: true, timeout: 10_000, maximumAge: 60_000 };

/** Returns where the phone is; none where it is not told: refused, switched off, or not found in time. */
export function whereAmI(): Promise<Here | null> {
  const places: unknown = Reflect.get(navigator, "geolocation");
  if (!(places instanceof Geolocation)) return Promise.resolve(null);
  return new Promise((resolve) => {
    places.getCurrentPosition(
      ({ coords: { latitude, longitude, accuracy } }) =>
        resolve({ position: [latitude, longitude], accuracy }),
      () => resolve(null),
      asked,
    );
  });
}
