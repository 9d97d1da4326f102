import type { Tap } from '../../shared/counts/taps.ts';

export type PhotoData = { id: number; widthPx: number; heightPx: number; taps: readonly Tap[] };

const full = 10_000;

/** A photo with a ring at each tap; `kept` names the board on which a script lets one tap. */
export function PhotoBoard({ photo, kept }: { photo: PhotoData; kept?: string }) {
  const { id, widthPx, heightPx, taps } = photo;
  const radius = Math.max(widthPx, heightPx) / 60;
  return (
    <div class="photo-board" data-photo-board={kept} data-width={widthPx} data-height={heightPx}>
      <img src={`/photos/${id}.jpg`} width={widthPx} height={heightPx} alt="The animals that are counted" />
      <svg
        viewBox={`0 0 ${widthPx} ${heightPx}`}
        class="photo-marks"
        role="img"
        aria-label={`${taps.length} marks`}
      >
        {taps.map(([x, y], index) => (
          <circle
            key={`${index} ${x} ${y}`}
            cx={(x / full) * widthPx}
            cy={(y / full) * heightPx}
            r={Math.round(radius)}
          />
        ))}
      </svg>
    </div>
  );
}
