import { linesOf } from './scales';

/** Width of a kept picture in pixels: enough for print at 8 cm and 600 dots to the inch. */
const PNG_WIDTH = 1920;

/** A picture as a file of its own: colours and fonts written out, with its title and what it rests on above it. */
export function pictureText(svg: SVGSVGElement, title: string, basis: string): string {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const [, , width = 480, height = 300] = (svg.getAttribute('viewBox') ?? '').split(' ').map(Number);
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  const heading = linesOf(title, 60);
  const head = 26 + heading.length * 17;
  copy.setAttribute('viewBox', `0 ${-head} ${width} ${height + head}`);
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(height + head));
  const words = (text: string, y: number, size: number, weight: number) => {
    const line = document.createElementNS('http://www.w3.org/2000/svg', 'text');
    for (const [name, value] of Object.entries({ x: 8, y, 'font-size': size, 'font-weight': weight }))
      line.setAttribute(name, String(value));
    line.setAttribute('fill', 'var(--ink)');
    line.textContent = text;
    return line;
  };
  const ground = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
  for (const [name, value] of Object.entries({
    y: -head,
    width,
    height: height + head,
    fill: 'var(--paper)',
  }))
    ground.setAttribute(name, String(value));
  copy.prepend(
    ground,
    ...heading.map((line, i) => words(line, 18 - head + i * 17, 13, 650)),
    words(basis, -8, 11, 400),
  );
  const tokens = getComputedStyle(document.documentElement);
  return new XMLSerializer()
    .serializeToString(copy)
    .replace(/var\((--[a-z-]+)\)/g, (_, name: string) =>
      tokens.getPropertyValue(name).trim().replaceAll('"', "'"),
    );
}

/** Hands the person a file. */
export function handOver(content: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

export function keepSvg(svg: SVGSVGElement, figure: { id: string; finding: string; basis: string }): void {
  handOver(
    new Blob([pictureText(svg, figure.finding, figure.basis)], { type: 'image/svg+xml' }),
    `lensferry-${figure.id}.svg`,
  );
}

export async function keepPng(
  svg: SVGSVGElement,
  figure: { id: string; finding: string; basis: string },
): Promise<void> {
  const text = pictureText(svg, figure.finding, figure.basis);
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await image.decode();
  const canvas = document.createElement('canvas');
  canvas.width = PNG_WIDTH;
  canvas.height = Math.round((PNG_WIDTH * image.naturalHeight) / image.naturalWidth);
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/png'));
  if (blob) handOver(blob, `lensferry-${figure.id}.png`);
}
