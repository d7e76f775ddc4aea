import { readFileSync } from 'node:fs';
import { inRepository } from './repository.mjs';
import { runProgram } from './run-program.mjs';
import { StopSentence } from './stop-sentence.mjs';

/**
 * Every package of the lock file: what it is, under which licence, and whether an installation without development
 * packages has it.
 *
 * @returns {{ name: string, version: string, license: string | undefined, path: string, ships: boolean, hasScript: boolean }[]}
 */
export function lockedPackages() {
  const { packages } = JSON.parse(readFileSync(inRepository('package-lock.json'), 'utf8'));
  return Object.entries(packages)
    .filter(([path, entry]) => path.includes('node_modules/') && !entry.link)
    .map(([path, entry]) => ({
      path,
      name: path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length),
      version: entry.version,
      license: entry.license,
      ships: !entry.dev && !entry.devOptional,
      hasScript: entry.hasInstallScript === true,
    }));
}

/**
 * The bill of materials of what ships, as CycloneDX JSON. npm lists everything; its own way of leaving development
 * packages out (`--omit dev`) also leaves out what both need, so that is done here.
 * @throws StopSentence when npm can't write it.
 */
export async function describeShipped([program, ...first]) {
  const args = ['sbom', '--sbom-format', 'cyclonedx', '--package-lock-only', '--loglevel', 'error'];
  const { code, output } = await runProgram(program, [...first, ...args]);
  try {
    if (code !== 0) throw new Error(`npm ended with ${code}`);
    return `${JSON.stringify(onlyShipped(JSON.parse(output.slice(output.indexOf('{')))), null, 2)}\n`;
  } catch (error) {
    process.stderr.write(`${output.trim().split('\n').slice(-20).join('\n')}\n`);
    throw new StopSentence(
      `The list of what ships could not be written (${error.message}): mend what npm names above.`,
    );
  }
}

function onlyShipped(bill) {
  const ships = new Set(
    lockedPackages()
      .filter((one) => one.ships)
      .map(({ name, version }) => `${name}@${version}`),
  );
  const isOwn = ({ name, group }) => name.startsWith('@lensferry/') || group === '@lensferry';
  const components = bill.components.filter(
    (one) => isOwn(one) || ships.has(`${one.group ? `${one.group}/` : ''}${one.name}@${one.version}`),
  );
  const kept = new Set([bill.metadata.component['bom-ref'], ...components.map((one) => one['bom-ref'])]);
  const dependencies = bill.dependencies
    .filter(({ ref }) => kept.has(ref))
    .map((one) => ({ ...one, dependsOn: one.dependsOn?.filter((ref) => kept.has(ref)) }));
  return { ...bill, components, dependencies };
}
