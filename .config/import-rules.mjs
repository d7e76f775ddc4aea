/**
 * The house's import rules as one lint rule. Layers are data; a file and what it imports each fall into one.
 */
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { builtinModules } from 'node:module';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Which layers a layer may import besides itself. calculation ← domain ← contracts ← { api, admin }. */
const MAY_IMPORT = {
  calculation: [],
  domain: ['calculation'],
  contracts: ['calculation', 'domain'],
  api: ['calculation', 'domain', 'contracts'],
  admin: ['calculation', 'domain', 'contracts'],
  'maker-simulator': ['calculation', 'domain', 'contracts'],
  launcher: ['calculation', 'domain', 'contracts'],
};
/** Where a browser must be able to run what is written. */
const IN_BROWSERS = new Set(['calculation', 'domain', 'contracts', 'admin']);
const DATABASE_FILES = /^apps\/api\/src\/(platform\/|.*\.(store|queries)\.ts$)/;
const PRISMA = /^@prisma\/|^prisma($|\/)|(^|\/)prisma-client(\/|$)/;
const builtins = new Set(builtinModules);

const posix = (path) => path.split(sep).join('/');

function layerOf(path) {
  const [top, name] = path.split('/');
  return (top === 'packages' || top === 'apps') && name in MAY_IMPORT ? name : null;
}

/** What an import names: a path in the repository, one of our packages, a part of Node, or somebody's package. */
function targetOf(source, file) {
  if (source.startsWith('.')) {
    const path = posix(relative(root, resolve(dirname(join(root, file)), source)));
    return { path, layer: layerOf(path) };
  }
  const ours = /^@lensferry\/([^/]+)/.exec(source);
  if (ours) return { path: null, layer: ours[1] };
  return {
    path: null,
    layer: null,
    builtin: source.startsWith('node:') || builtins.has(source.split('/')[0]),
  };
}

/** Every judgement gives a sentence or nothing. */
const judgements = [
  function oneWay({ layer, target }) {
    if (!layer || !target.layer || target.layer === layer || MAY_IMPORT[layer].includes(target.layer))
      return null;
    return `${layer} may not import ${target.layer}: imports run calculation ← domain ← contracts ← api and admin.`;
  },
  function byPackageName({ layer, target, source }) {
    if (!layer || !source.startsWith('.') || !target.layer || target.layer === layer) return null;
    return `Import @lensferry/${target.layer} by its name, not by a path into its folder.`;
  },
  function inBrowsers({ layer, target, isSpec }) {
    if (!IN_BROWSERS.has(layer) || isSpec || !target.builtin) return null;
    return `${layer} runs in browsers, so it may not import a part of Node.`;
  },
  function withSuffix({ layer, source, file }) {
    const compiledByNode = layer && layer !== 'admin' && /\.ts$/.test(file);
    if (!compiledByNode || !source.startsWith('.') || /\.(js|json|mjs)$/.test(source)) return null;
    return 'A relative import needs its .js suffix: Node does not guess.';
  },
  function prismaInItsPlace({ file, source, layer, typeOnly }) {
    // The shape of a row is no query: see docs/decisions/008.
    if (!layer || !PRISMA.test(source) || DATABASE_FILES.test(file) || (typeOnly && layer === 'api'))
      return null;
    return 'Prisma is imported only in apps/api/src/platform, *.store.ts and *.queries.ts.';
  },
];

/** The first sentence against importing `source` in `file` (relative to the repository), or null. */
export function judgeImport(file, source, typeOnly = false) {
  const facts = {
    file,
    source,
    layer: layerOf(file),
    target: targetOf(source, file),
    typeOnly,
    isSpec: /\.spec\.tsx?$/.test(file),
  };
  for (const judge of judgements) {
    const sentence = judge(facts);
    if (sentence) return sentence;
  }
  return null;
}

const imports = {
  meta: { type: 'problem', docs: { description: 'keeps imports within the rules of the house' }, schema: [] },
  create(context) {
    const file = posix(relative(root, context.filename));
    const check = (node) => {
      if (typeof node.source?.value !== 'string') return;
      const message = judgeImport(file, node.source.value, node.importKind === 'type');
      if (message) context.report({ node, message });
    };
    return {
      ImportDeclaration: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
      ImportExpression: check,
    };
  },
};

export default { rules: { imports } };
