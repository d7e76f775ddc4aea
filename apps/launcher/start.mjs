/** `npm start`: everything that Lensferry needs on one machine, from a bare clone to the ready line. */
import { requireRecentNode } from './src/node-version.mjs';

requireRecentNode();
const { runStart } = await import('./src/run-start.mjs');
await runStart(process.argv.slice(2));
