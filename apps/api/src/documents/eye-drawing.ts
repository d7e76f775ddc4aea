import type { Eye } from '@lensferry/domain';

/** What is drawn on an eye as the surgeon faces it. Degrees counter-clockwise from 3 o'clock, for either eye. */
export interface EyeMarks {
  readonly eye: Eye;
  /** Where the lens's long axis is to lie, degrees from the horizontal. */
  readonly turnDeg: number;
  /** Where the axis of its cylinder comes to lie; null without a cylinder. */
  readonly cylinderAxisDeg: number | null;
}

const line = '#1b2430';
const accent = '#b3261e';

/** A point at an angle around a centre; the page counts downwards, so up is minus. */
const around = (x: number, y: number, radius: number, deg: number): [number, number] => {
  const angle = (deg * Math.PI) / 180;
  return [x + radius * Math.cos(angle), y - radius * Math.sin(angle)];
};

/** Draws the eye with its degrees, nose and temple, the lens as it is to lie, and the axis marks. */
export function drawEye(
  pdf: PDFKit.PDFDocument,
  x: number,
  y: number,
  radius: number,
  marks: EyeMarks,
): void {
  pdf.save();
  pdf.circle(x, y, radius).lineWidth(1.2).strokeColor(line).stroke();
  pdf
    .circle(x, y, radius * 0.32)
    .lineWidth(0.5)
    .strokeColor('#8a94a1')
    .stroke();
  drawDegrees(pdf, x, y, radius);
  drawSides(pdf, x, y, radius, marks.eye);
  drawLens(pdf, x, y, radius, marks.turnDeg);
  if (marks.cylinderAxisDeg !== null) drawAxis(pdf, x, y, radius, marks.cylinderAxisDeg);
  pdf.restore();
}

function drawDegrees(pdf: PDFKit.PDFDocument, x: number, y: number, radius: number): void {
  pdf.font('plain').fontSize(7.5).fillColor(line);
  for (let deg = 0; deg < 360; deg += 10) {
    const long = deg % 30 === 0;
    const from = around(x, y, radius, deg);
    const to = around(x, y, radius + (long ? 7 : 4), deg);
    pdf
      .moveTo(...from)
      .lineTo(...to)
      .lineWidth(0.6)
      .strokeColor(line)
      .stroke();
    if (!long || deg > 180) continue;
    const [labelX, labelY] = around(x, y, radius + 16, deg);
    pdf.text(String(deg), labelX - 12, labelY - 4, { width: 24, align: 'center', lineBreak: false });
  }
}

/** Facing the patient, the nose lies to the right of a right eye and to the left of a left one. */
function drawSides(pdf: PDFKit.PDFDocument, x: number, y: number, radius: number, eye: Eye): void {
  const [left, right] = eye === 'OD' ? ['TEMPLE', 'NOSE'] : ['NOSE', 'TEMPLE'];
  pdf.font('bold').fontSize(9).fillColor(line);
  pdf.text(left, x - radius - 86, y - 5, { width: 56, align: 'right', lineBreak: false });
  pdf.text(right, x + radius + 30, y - 5, { width: 56, align: 'left', lineBreak: false });
}

function drawLens(pdf: PDFKit.PDFDocument, x: number, y: number, radius: number, turnDeg: number): void {
  pdf.save();
  // PDFKit turns clockwise.
  pdf.rotate(-turnDeg, { origin: [x, y] });
  const [long, high] = [radius * 1.84, radius * 0.8];
  pdf
    .roundedRect(x - long / 2, y - high / 2, long, high, radius * 0.16)
    .lineWidth(0.9)
    .dash(4, { space: 2 })
    .strokeColor(line)
    .stroke()
    .undash();
  pdf
    .circle(x, y, radius * 0.4)
    .lineWidth(0.9)
    .strokeColor(line)
    .stroke();
  pdf.restore();
}

/** The cylinder's axis: a line through the eye, with a mark at either limbus. */
function drawAxis(pdf: PDFKit.PDFDocument, x: number, y: number, radius: number, deg: number): void {
  const [a, b] = [around(x, y, radius + 7, deg), around(x, y, radius + 7, deg + 180)];
  pdf
    .moveTo(...a)
    .lineTo(...b)
    .lineWidth(1.4)
    .strokeColor(accent)
    .stroke();
  for (const end of [deg, deg + 180]) {
    const [markX, markY] = around(x, y, radius, end);
    pdf.circle(markX, markY, 3).fillColor(accent).fill();
  }
}
