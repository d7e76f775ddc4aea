import { createRequire } from 'node:module';
import PDFDocument from 'pdfkit';

const require = createRequire(import.meta.url);
const font = (name: string): string => require.resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`);
// A built-in font has no letters for most of the world's names; these are embedded.
const fonts = { plain: font('DejaVuSans'), bold: font('DejaVuSans-Bold'), mono: font('DejaVuSansMono') };

/** Points in a millimetre. */
export const mm = 72 / 25.4;
const ink = '#1b2430';
const faint = '#5a6675';
const margin = 18 * mm;
const footerHeight = 16 * mm;

/** What stands at the head and foot of every page of a document. */
export interface SheetHead {
  readonly title: string;
  /** What the document is about in one line: a number, a case code. */
  readonly reference: string;
  readonly printedAt: Date;
  /** Printed at the foot of each page; nothing leaves without it. */
  readonly footer: string;
  /** A4 when left out; labels and cards have sizes of their own, in millimetres. */
  readonly sizeMm?: readonly [width: number, height: number];
}

export type Fact = readonly [label: string, value: string];

/** A document being written: our page furniture around PDFKit. */
export class Sheet {
  readonly pdf: PDFKit.PDFDocument;
  private readonly chunks: Buffer[] = [];
  private readonly written: Promise<Buffer>;

  constructor(private readonly head: SheetHead) {
    const small = head.sizeMm !== undefined;
    this.pdf = new PDFDocument({
      size: head.sizeMm === undefined ? 'A4' : [head.sizeMm[0] * mm, head.sizeMm[1] * mm],
      margins: small
        ? { top: 3 * mm, bottom: 0, left: 3 * mm, right: 3 * mm }
        : { top: margin, bottom: margin + footerHeight, left: margin, right: margin },
      bufferPages: true,
      info: {
        Title: `${head.title} ${head.reference}`,
        Creator: 'Lensferry',
        Producer: 'Lensferry',
        CreationDate: head.printedAt,
      },
    });
    for (const [name, path] of Object.entries(fonts)) this.pdf.registerFont(name, path);
    this.written = new Promise((done, failed) => {
      this.pdf.on('data', (chunk: Buffer) => this.chunks.push(chunk));
      this.pdf.on('end', () => done(Buffer.concat(this.chunks)));
      this.pdf.on('error', failed);
    });
    if (!small) this.writeHead();
  }

  private writeHead(): void {
    const { title, reference } = this.head;
    this.pdf.font('bold').fontSize(17).fillColor(ink).text(title);
    this.pdf.font('plain').fontSize(10.5).fillColor(faint).text(reference).moveDown(0.8);
    this.rule();
  }

  /** A thin line across the page. */
  rule(): void {
    const { left, right } = this.pdf.page.margins;
    const y = this.pdf.y;
    this.pdf
      .moveTo(left, y)
      .lineTo(this.pdf.page.width - right, y)
      .lineWidth(0.5)
      .strokeColor('#c3cad3')
      .stroke();
    this.pdf.moveDown(0.7);
  }

  /** Something that must not be overlooked, such as the eye. */
  shout(text: string, size = 24): void {
    this.pdf.font('bold').fontSize(size).fillColor(ink).text(text).moveDown(0.3);
  }

  heading(text: string): void {
    this.pdf.moveDown(0.5).font('bold').fontSize(11.5).fillColor(ink).text(text).moveDown(0.3);
  }

  paragraph(text: string, size = 9.5): void {
    this.pdf.font('plain').fontSize(size).fillColor(ink).text(text, { lineGap: 1.5 }).moveDown(0.4);
  }

  /** Labels on the left, values on the right; a value that is empty becomes a line to write on. */
  facts(rows: readonly Fact[], { size = 10, labelWidth = 58 * mm } = {}): void {
    const { pdf } = this;
    const { left, right } = pdf.page.margins;
    const width = pdf.page.width - left - right - labelWidth;
    for (const [label, value] of rows) {
      const shown = value === '' ? '________________________' : value;
      const height = pdf.font('bold').fontSize(size).heightOfString(shown, { width });
      if (pdf.y + height > pdf.page.height - pdf.page.margins.bottom) pdf.addPage();
      const { y } = pdf;
      pdf
        .font('plain')
        .fontSize(size)
        .fillColor(faint)
        .text(label, left, y, { width: labelWidth - 8 });
      const below = pdf.y;
      pdf
        .font('bold')
        .fillColor(ink)
        .text(shown, left + labelWidth, y, { width });
      pdf.y = Math.max(below, pdf.y) + size * 0.3;
      pdf.x = left;
    }
  }

  /** Cautions: always printed, never folded away. */
  cautions(sentences: readonly string[]): void {
    this.heading('Cautions');
    for (const sentence of sentences) this.paragraph(`• ${sentence}`, 9);
  }

  /** Numbers the pages, writes their feet and closes the document. */
  async finish(): Promise<Buffer> {
    if (this.head.sizeMm === undefined) this.writeFeet();
    this.pdf.end();
    return this.written;
  }

  private writeFeet(): void {
    const { pdf, head } = this;
    const { start, count } = pdf.bufferedPageRange();
    for (let page = start; page < start + count; page += 1) {
      pdf.switchToPage(page);
      // Text below the bottom margin would open a new page, so the foot is written with none.
      pdf.page.margins.bottom = 0;
      const y = pdf.page.height - margin - footerHeight + 4 * mm;
      const width = pdf.page.width - 2 * margin;
      pdf.font('plain').fontSize(7.5).fillColor(faint);
      pdf.text(head.footer, margin, y, { width });
      pdf.text(
        `${head.reference} · page ${page - start + 1} of ${count} · printed ${head.printedAt.toISOString().slice(0, 16).replace('T', ' ')} UTC`,
        margin,
        y + 8 * mm,
        { width },
      );
    }
  }
}

/** What every sheet says at its foot. */
export const standingFooter =
  'Decision support for licensed professionals; not a medical device. Local law, the maker’s instructions and the surgeon’s judgement come first.';

/** What goes to a maker says besides. */
export const makerFooter = `${standingFooter} This sheet names no patient: quote the case code.`;
