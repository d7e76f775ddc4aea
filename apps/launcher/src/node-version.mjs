// Only syntax that very old versions of Node can read: this file has to tell them that they are too old.
const WANTED = [20, 19];

/** Ends the process with one sentence when this Node is too old for Lensferry. */
export function requireRecentNode(version = process.versions.node) {
  const parts = version.split('.').map(Number);
  const enough = parts[0] > WANTED[0] || (parts[0] === WANTED[0] && parts[1] >= WANTED[1]);
  if (enough) return;
  process.stderr.write(
    'Lensferry needs Node ' +
      WANTED.join('.') +
      ' or newer and this is ' +
      version +
      ': install a newer one from nodejs.org.\n',
  );
  process.exit(1);
}
