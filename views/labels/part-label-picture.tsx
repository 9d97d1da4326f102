import { Warnings } from '../documents/characters.ts';
import type { Mark } from '../documents/drawing.ts';
import { type LabelData, layOutLabel } from '../documents/label.ts';
import { mm } from '../documents/paper.ts';

export type LabelPictureProps = { label: LabelData; widthMm: number; heightMm: number };

const round = (value: number) => Math.round(value * 100) / 100;

function Drawn({ mark }: { mark: Mark }) {
  if (mark.kind === 'text')
    return (
      <text
        class={`label-${mark.face}`}
        x={round(mark.xPt)}
        y={round(mark.yPt)}
        font-size={round(mark.sizePt)}
      >
        {mark.text}
      </text>
    );
  if (mark.kind !== 'rects') return null;
  const d = mark.rects.map(
    ([x, y, w, h]) => `M${round(x)} ${round(y)}h${round(w)}v${round(h)}h${round(-w)}z`,
  );
  return <path d={d.join('')} />;
}

/** One label as it will be printed, drawn from the same marks. */
export function LabelPicture({ label, widthMm, heightMm }: LabelPictureProps) {
  const laid = layOutLabel(label, widthMm, heightMm, new Warnings());
  const placed = laid.draw(0, 0, { figure: null, text: null });
  return (
    <svg
      class="label-picture"
      viewBox={`-1 -1 ${round(mm(widthMm) + 2)} ${round(mm(heightMm) + 2)}`}
      role="img"
      aria-label={`A label with a QR code, ${label.code}, ${label.scientificName}`}
    >
      <rect class="label-paper" x="0" y="0" width={round(mm(widthMm))} height={round(mm(heightMm))} />
      {placed.map(({ mark }, index) => (
        <Drawn key={index} mark={mark} />
      ))}
    </svg>
  );
}
