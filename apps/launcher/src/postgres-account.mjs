import { spawnSync } from 'node:child_process';
import { chownSync, existsSync, readFileSync, statSync } from 'node:fs';
import { StopSentence } from './stop-sentence.mjs';

/**
 * Under which account the database server runs. PostgreSQL refuses to run as root, so root hands it to
 * `postgres` or `nobody`; everybody else runs it as themselves.
 *
 * A cluster that exists stays with the account that owns it, since the server refuses any other.
 *
 * `wrap(program, args)` gives what to spawn and with which options; `own(path)` hands a path to the account.
 */
export function choosePostgresAccount(paths, cluster) {
  if (process.getuid?.() !== 0) return ownAccount;
  const account = ownerOf(cluster) ?? lowAccount();
  const plain = lowerTo(account);
  if (reaches(plain, paths)) return plain;
  for (const right of ['dac_read_search', 'dac_override']) {
    const helped = lowerKeeping(account, right);
    if (helped && reaches(helped, paths)) return helped;
  }
  throw new StopSentence(
    `The database runs as user ${account.name}, who cannot enter ${paths.join(' or ')}: ` +
      `start as an ordinary user, or move this folder and DATA_DIR to where other users may enter.`,
  );
}

const ownAccount = {
  name: 'this user',
  own: () => {},
  wrap: (program, args) => ({ program, args, options: {} }),
};

function ownerOf(cluster) {
  const { uid, gid } = statSync(cluster, { throwIfNoEntry: false }) ?? { uid: 0 };
  return uid === 0 ? null : { name: `number ${uid}`, uid, gid };
}

function lowAccount() {
  const entries = existsSync('/etc/passwd') ? readFileSync('/etc/passwd', 'utf8').split('\n') : [];
  for (const name of ['postgres', 'nobody']) {
    const entry = entries.find((line) => line.startsWith(`${name}:`));
    if (!entry) continue;
    const [, , uid, gid] = entry.split(':');
    if (Number(uid) > 0) return { name, uid: Number(uid), gid: Number(gid) };
  }
  return { name: 'number 65534', uid: 65534, gid: 65534 };
}

function lowerTo(account) {
  return {
    name: account.name,
    own: (path) => chownSync(path, account.uid, account.gid),
    wrap: (program, args) => ({ program, args, options: { uid: account.uid, gid: account.gid } }),
  };
}

/**
 * A clone below a closed folder (/root, a mktemp folder) cannot be entered by another account. Opening those
 * folders would change what is not ours, so the server keeps the one right to pass through instead. Without
 * that security bit access(2), which the server asks about its own programs, would leave the right out.
 */
function lowerKeeping(account, right) {
  const setpriv = ['/usr/bin/setpriv', '/bin/setpriv'].find((path) => existsSync(path));
  if (!setpriv) return null;
  const rights = [
    `--reuid=${account.uid}`,
    `--regid=${account.gid}`,
    '--clear-groups',
    '--securebits=+no_setuid_fixup',
    `--inh-caps=-all,+${right}`,
    `--bounding-set=-all,+${right}`,
    `--ambient-caps=-all,+${right}`,
  ];
  return {
    name: account.name,
    own: (path) => chownSync(path, account.uid, account.gid),
    wrap: (program, args) => ({ program: setpriv, args: [...rights, program, ...args], options: {} }),
  };
}

function reaches(account, paths) {
  const script = 'for path in "$@"; do [ -d "$path" ] && [ -x "$path" ] || exit 1; done';
  const { program, args, options } = account.wrap('/bin/sh', ['-c', script, 'sh', ...paths]);
  return spawnSync(program, args, { ...options, stdio: 'ignore' }).status === 0;
}
