import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** What a PDF says, page by page, as an independent reader reads it. */
export async function readPdf(bytes: Buffer): Promise<{ text: string; pages: number; title: string }> {
  const document = await getDocument({ data: new Uint8Array(bytes), verbosity: 0, useSystemFonts: false })
    .promise;
  const pages: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent();
    pages.push(items.map((item) => ('str' in item ? item.str : '')).join(' '));
  }
  const { info } = await document.getMetadata();
  const title = String((info as { Title?: string }).Title ?? '');
  await document.destroy();
  return { text: pages.join('\n').replaceAll(/\s+/g, ' '), pages: pages.length, title };
}
