/** `npm test`: every check and every test, from a bare clone, browser journeys in Chromium included. */
import { requireRecentNode } from './src/node-version.mjs';

requireRecentNode();
const { runTests } = await import('./src/run-tests.mjs');
await runTests();
