import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { compressFiles } from './compress-files.mjs';
import { isInstalledByHand } from './installed-packages.mjs';
import { inRepository } from './repository.mjs';
import { runProgram } from './run-program.mjs';
import { describeShipped } from './shipped-packages.mjs';
import { saysDiskFull, StopSentence } from './stop-sentence.mjs';

const LOCK_FILES = ['package-lock.json', '.npmrc'];
const PACKAGES = ['packages/calculation', 'packages/domain', 'packages/contracts'];
const COMPILER_SETTINGS = ['.config/tsconfig.base.json', 'package-lock.json'];

/**
 * What has to be made before Lensferry runs, in order. `inputs` are hashed to see whether the step is due,
 * `outputs` must be there, `run` makes them.
 */
export const prepareSteps = [
  {
    name: 'install',
    doing: 'Installing packages from the lock file',
    inputs: LOCK_FILES,
    outputs: ['node_modules/.package-lock.json'],
    isDoneAlready: isInstalledByHand,
    run: install,
  },
  {
    name: 'packages',
    doing: 'Building the shared packages',
    inputs: [...PACKAGES, ...COMPILER_SETTINGS],
    outputs: PACKAGES.map((folder) => `${folder}/dist/index.js`),
    run: () => compile(PACKAGES, 'The shared packages do'),
  },
  {
    name: 'prisma',
    doing: 'Generating the database client',
    inputs: ['prisma/schema', 'prisma/prisma.config.ts', 'prisma/generate-client.mjs', 'package-lock.json'],
    outputs: ['apps/api/src/platform/prisma-client/client.ts'],
    run: generateClient,
  },
  {
    name: 'api',
    doing: 'Building the API',
    inputs: ['apps/api', 'prisma/schema', ...PACKAGES, ...COMPILER_SETTINGS],
    outputs: ['apps/api/dist/main.js'],
    run: () => compile(['apps/api'], 'The API does'),
  },
  {
    name: 'simulator',
    doing: 'Building the maker simulator',
    inputs: ['apps/maker-simulator', ...PACKAGES, ...COMPILER_SETTINGS],
    outputs: ['apps/maker-simulator/dist/main.js'],
    run: () => compile(['apps/maker-simulator'], 'The maker simulator does'),
  },
  {
    name: 'admin',
    doing: 'Building the admin pages',
    inputs: ['apps/admin', ...PACKAGES, 'package-lock.json', 'apps/launcher/src/compress-files.mjs'],
    outputs: ['apps/admin/dist/index.html'],
    run: buildAdmin,
  },
  {
    name: 'sbom',
    doing: 'Listing what ships',
    inputs: ['package-lock.json', 'package.json', 'apps/launcher/src/shipped-packages.mjs'],
    outputs: ['dist/sbom.cdx.json'],
    run: writeSbom,
  },
];

/** The npm that runs this, or the one on the path. */
function npmCommand() {
  return process.env.npm_execpath?.includes('npm-cli')
    ? [process.execPath, process.env.npm_execpath]
    : ['npm'];
}

/** Install scripts stay off: nothing that is used here needs them, and a package cannot run code while it arrives. */
async function install() {
  const args = ['ci', '--ignore-scripts', '--include=dev', '--include=optional', '--no-audit', '--no-fund'];
  const [program, ...first] = npmCommand();
  const result = await runProgram(program, [...first, ...args]).catch((error) => {
    if (error.code === 'ENOENT')
      throw new StopSentence('npm was not found: install Node together with npm and start again.');
    throw error;
  });
  refuse(
    result,
    'npm could not install the packages',
    'check that this machine reaches the npm registry and start again',
  );
}

/**
 * The compiler trusts its own notes about what it has built, even when somebody removed the folder; then the notes
 * of that project go too. Never `--force`: it builds the shared packages again, and API and simulator are built
 * side by side on top of them.
 */
async function compile(projects, subject) {
  for (const project of projects)
    if (!existsSync(inRepository(project, 'dist')))
      rmSync(inRepository(project, 'tsconfig.tsbuildinfo'), { force: true });
  const tsc = inRepository('node_modules', 'typescript', 'bin', 'tsc');
  const result = await runProgram(process.execPath, [tsc, '-b', ...projects]);
  refuse(result, `${subject} not compile`, 'mend what the compiler names');
}

async function generateClient() {
  const result = await runProgram(process.execPath, [inRepository('prisma', 'generate-client.mjs')]);
  refuse(result, 'The database client could not be generated', 'mend what Prisma names');
}

async function buildAdmin() {
  const cwd = inRepository('apps', 'admin');
  const manifest = createRequire(join(cwd, 'package.json')).resolve('vite/package.json');
  const vite = join(dirname(manifest), JSON.parse(readFileSync(manifest, 'utf8')).bin.vite);
  const env = { ...process.env, NODE_ENV: 'production' };
  const result = await runProgram(process.execPath, [vite, 'build'], { cwd, env });
  refuse(result, 'The admin pages could not be built', 'mend what the bundler names');
  await compressFiles(join(cwd, 'dist', 'assets'));
}

/** The software bill of materials (CycloneDX), from the lock file alone: nothing is asked of a registry. */
async function writeSbom() {
  mkdirSync(inRepository('dist'), { recursive: true });
  writeFileSync(inRepository('dist', 'sbom.cdx.json'), await describeShipped(npmCommand()));
}

function refuse({ code, output }, what, advice) {
  if (code === 0) return;
  if (saysDiskFull(output))
    throw new StopSentence(`${what} because the disk is full: free some space and start again.`);
  process.stderr.write(`${output.trim().split('\n').slice(-40).join('\n')}\n`);
  throw new StopSentence(`${what}: ${advice} (its last lines are above).`);
}
