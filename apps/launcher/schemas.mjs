// Writes the JSON Schemas of what passes between Lensferry and makers to docs/schema; a spec checks that they are current.
import { writeFile } from 'node:fs/promises';
import { format } from 'prettier';
import { makerSchema, makerSchemaNames } from '@lensferry/contracts';

for (const name of makerSchemaNames) {
  const file = new URL(`../../docs/schema/${name}.schema.json`, import.meta.url);
  await writeFile(file, await format(JSON.stringify(makerSchema(name)), { parser: 'json', printWidth: 110 }));
  console.log(`docs/schema/${name}.schema.json`);
}
