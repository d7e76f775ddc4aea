import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';

const brotli = promisify(brotliCompress);
const zip = promisify(gzip);
const params = { [constants.BROTLI_PARAM_QUALITY]: 10 };

/** Lays beside each file of a folder that shrinks the same file compressed, so that a server only has to send it. */
export async function compressFiles(folder) {
  const names = (await readdir(folder)).filter((name) => /\.(js|css|wasm|svg)$/.test(name));
  await Promise.all(
    names.map(async (name) => {
      const file = join(folder, name);
      const bytes = await readFile(file);
      await writeFile(`${file}.gz`, await zip(bytes, { level: 9 }));
      await writeFile(`${file}.br`, await brotli(bytes, { params }));
    }),
  );
}
