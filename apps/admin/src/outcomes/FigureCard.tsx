import { useRef } from 'react';
import { useTranslate } from 'react-admin';
import { useFormat } from '../shared/format/use-format';
import { FigurePicture } from './FigurePicture';
import { FigureTable } from './FigureTable';
import type { Figure } from './figure-model';
import { keepPng, keepSvg } from './keep-picture';

/** A figure: what it found, what it rests on, the picture, and its numbers beneath. */
export function FigureCard({ figure }: { figure: Figure }) {
  const t = useTranslate();
  const format = useFormat();
  const svg = useRef<SVGSVGElement>(null);
  const says = { share: format.percent, number: format.plain };
  return (
    <figure className="card card--padded figure" id={`figure-${figure.id}`}>
      <figcaption>
        <p className="figure__name">{figure.name}</p>
        <h3>{figure.finding}</h3>
        <p className="muted">{figure.basis}</p>
      </figcaption>
      <FigurePicture figure={figure} says={says} ref={svg} />
      {figure.notes.map((note) => (
        <p key={note} className="figure__note">
          {note}
        </p>
      ))}
      <div className="steps no-print">
        <button
          type="button"
          className="button button--text"
          onClick={() => svg.current && keepSvg(svg.current, figure)}
        >
          {t('outcome.keep_svg')}
        </button>
        <button
          type="button"
          className="button button--text"
          onClick={() => svg.current && void keepPng(svg.current, figure)}
        >
          {t('outcome.keep_png')}
        </button>
      </div>
      <FigureTable figure={figure} />
    </figure>
  );
}
