import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import wasmUrl from 'zxing-wasm/reader/zxing_reader.wasm?url';

prepareZXingModule({
  overrides: { locateFile: (path: string) => (path.endsWith('.wasm') ? wasmUrl : path) },
});

/** The first GS1 or HIBC symbol in a frame of the camera, as a scanner would type it; null when there is none. */
export async function readCode(video: HTMLVideoElement): Promise<string | null> {
  if (video.videoWidth === 0) return null;
  const canvas = document.createElement('canvas');
  canvas.width = video.videoWidth;
  canvas.height = video.videoHeight;
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (!context) return null;
  context.drawImage(video, 0, 0);
  const image = context.getImageData(0, 0, canvas.width, canvas.height);
  const codes = await readBarcodes(image, {
    formats: ['DataMatrix', 'Code128', 'QRCode'],
    maxNumberOfSymbols: 1,
    textMode: 'Plain',
  });
  const [code] = codes;
  return code?.isValid ? (code.symbologyIdentifier ?? '') + code.text : null;
}
