// Where an instrument is, in a line.

/** Returns what it measures and its site; the site once, where the service begins with it. */
export function place({ service, site }: { service: string; site: string }): string {
  return service.startsWith(site) ? service : `${service}, ${site}`;
}
