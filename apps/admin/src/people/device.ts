const systems = ['Android', 'iPhone', 'iPad', 'Windows', 'Macintosh', 'Linux'];
const browsers = ['Edg', 'Firefox', 'Chrome', 'Safari'];

/** What a browser says of itself, in two words; all of it where it says nothing that is known. */
export function deviceInWords(device: string): string {
  const system = systems.find((name) => device.includes(name));
  const browser = browsers.find((name) => device.includes(`${name}/`) || device.includes(`${name}iOS/`));
  if (system === undefined || browser === undefined) return device;
  return `${browser === 'Edg' ? 'Edge' : browser}, ${system}`;
}
