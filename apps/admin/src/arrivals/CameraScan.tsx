import { useEffect, useRef, useState } from 'react';
import { useTranslate } from 'react-admin';

const EVERY_MS = 250;

/** Reads a code with the phone's camera; the reader is loaded only now, its wasm from our own host. */
export function CameraScan({ onFound }: { onFound: (text: string) => void }) {
  const t = useTranslate();
  const video = useRef<HTMLVideoElement>(null);
  const found = useRef(onFound);
  const [trouble, setTrouble] = useState(false);
  found.current = onFound;
  useEffect(() => {
    let stream: MediaStream | null = null;
    let over = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const start = async () => {
      const { readCode } = await import('./read-code');
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
      const element = video.current;
      if (over || !element) return stop();
      element.srcObject = stream;
      await element.play();
      const look = async () => {
        if (over) return;
        const text = await readCode(element);
        if (text !== null && !over) return found.current(text);
        timer = setTimeout(() => void look(), EVERY_MS);
      };
      await look();
    };
    const stop = () => {
      over = true;
      clearTimeout(timer);
      stream?.getTracks().forEach((track) => track.stop());
    };
    start().catch(() => {
      if (!over) setTrouble(true);
    });
    return stop;
  }, []);
  if (trouble) return <p className="note note--amber">{t('arrival.no_camera')}</p>;
  return (
    <video
      ref={video}
      className="arrivals__camera card"
      muted
      playsInline
      aria-label={t('arrival.camera_view')}
    />
  );
}
