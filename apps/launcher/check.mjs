/** `npm run check`: format, lint, types and unit tests; what to run before every commit. */
import { requireRecentNode } from './src/node-version.mjs';

requireRecentNode();
const { runCheck } = await import('./src/run-check.mjs');
await runCheck(process.argv.slice(2));
