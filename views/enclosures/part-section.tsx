import type { Section, SectionPoint } from '../../shared/enclosures/section.ts';
import { formatLength, formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import { spreadLabels, wrapWords } from './section-layout.ts';

const width = 360;
const drawing = { left: 6, top: 30, width: 180, height: 200 };
const labels = { left: 206, letters: 18, lineHeight: 18, gap: 8 };

type Scale = { x: (mm: number) => number; y: (mm: number) => number; perMm: number; bottom: number };

const round = (value: number) => Math.round(value * 10) / 10;

function scaleOf({ widthMm, heightMm }: Section): Scale {
  const perMm = Math.min(drawing.width / widthMm, drawing.height / heightMm);
  const bottom = drawing.top + heightMm * perMm;
  return {
    perMm,
    bottom,
    x: (mm) => round(drawing.left + mm * perMm),
    y: (mm) => round(bottom - mm * perMm),
  };
}

const points = (scale: Scale, outline: readonly SectionPoint[]) =>
  outline.map(([x, y]) => `${scale.x(x)},${scale.y(y)}`).join(' ');

/** Fillings that differ in black and white too; from the floor up they get looser. */
function Fillings({ prefix }: { prefix: string }) {
  return (
    <defs>
      <pattern id={`${prefix}-0`} width="7" height="7" patternUnits="userSpaceOnUse">
        <circle class="section-ink" cx="1.6" cy="1.8" r="1" />
        <circle class="section-ink" cx="5.2" cy="4.9" r="0.8" />
      </pattern>
      <pattern id={`${prefix}-1`} width="14" height="9" patternUnits="userSpaceOnUse">
        <path class="section-stroke" d="M1 3q3 -3 6 0q-3 3 -6 0M8 7.5q2.500 -2.500 5 0" />
      </pattern>
      <pattern id={`${prefix}-2`} width="8" height="8" patternUnits="userSpaceOnUse">
        <path class="section-stroke" d="M0 8L8 0" />
      </pattern>
      <pattern id={`${prefix}-3`} width="10" height="10" patternUnits="userSpaceOnUse">
        <circle class="section-stroke" cx="5" cy="5" r="3.200" />
      </pattern>
    </defs>
  );
}

/** What stands beside the drawing, from the floor up, and where. */
function placeLabels({ section, units, locale }: SectionProps, scale: Scale) {
  const length = (mm: number) => formatLength(mm, units, locale);
  const named = section.layers.map((layer) => ({
    name: layer.name,
    note: `${length(layer.toMm - layer.fromMm)}, ${formatVolume(layer.litres, units, locale)}`,
    middleMm: (layer.fromMm + layer.toMm) / 2,
    rightMm: ((layer.outline[2]?.[0] ?? 0) + (layer.outline[3]?.[0] ?? 0)) / 2,
  }));
  if (section.freeHeadMm > 0)
    named.push({
      name: 'Free above',
      note: length(section.freeHeadMm),
      middleMm: section.heightMm - section.freeHeadMm / 2,
      rightMm: section.wall[3]?.[0] ?? section.widthMm,
    });
  const labelled = named.map((one) => {
    const lines = wrapWords(one.name, labels.letters, 2);
    return { ...one, lines, wantedY: scale.y(one.middleMm), height: (lines.length + 1) * labels.lineHeight };
  });
  const needed = labelled.reduce((sum, one) => sum + one.height + labels.gap, 0);
  const tops = spreadLabels(labelled, 2, Math.max(scale.bottom + 8, needed + 2), labels.gap);
  const placed = labelled.map((one, i) => ({ ...one, top: round(tops[i] ?? 0) }));
  return { placed, bottom: Math.max(0, ...placed.map((one) => one.top + one.height)) };
}

function Labels({ placed, scale }: { placed: ReturnType<typeof placeLabels>['placed']; scale: Scale }) {
  return (
    <>
      {placed.map(({ lines, note, middleMm, rightMm, top }) => {
        const y = scale.y(middleMm);
        return (
          <g key={`${middleMm}`}>
            <path
              class="section-leader"
              d={`M${scale.x(rightMm) - 4} ${y}H${labels.left - 16}L${labels.left - 5} ${top + 10}`}
            />
            <circle class="section-ink" cx={scale.x(rightMm) - 4} cy={y} r="2" />
            <text class="section-name" x={labels.left} y={top + 14}>
              {lines.map((line, at) => (
                <tspan key={line} x={labels.left} dy={at === 0 ? 0 : labels.lineHeight}>
                  {line}
                </tspan>
              ))}
              <tspan class="section-note" x={labels.left} dy={labels.lineHeight}>
                {note}
              </tspan>
            </text>
          </g>
        );
      })}
    </>
  );
}

/** A bar of a round length, so that the drawing can be held against a ruler in the mind. */
function ScaleBar({ section, scale, units, locale }: SectionProps & { scale: Scale }) {
  const steps = units === 'us' ? [6, 4, 2, 1, 0.5].map((inch) => inch * 25.4) : [100, 50, 20, 10, 5];
  const lengthMm = steps.find((mm) => mm * scale.perMm <= 80 && mm <= section.widthMm) ?? steps.at(-1) ?? 5;
  const y = scale.bottom + 18;
  const end = scale.x(lengthMm);
  return (
    <>
      <path
        class="section-stroke"
        d={`M${drawing.left} ${y - 4}v8M${drawing.left} ${y}H${end}M${end} ${y - 4}v8`}
      />
      <text class="section-note" x={end + 8} y={y + 5}>
        {formatLength(lengthMm, units, locale)}
      </text>
    </>
  );
}

export type SectionProps = {
  section: Section;
  units: UnitSystem;
  locale: string | undefined;
  /** Read out in place of the picture. */
  label: string;
  /** Begins the ids inside the drawing; another one for each drawing of a page. */
  prefix?: string;
};

/** An enclosure cut through upright, to scale, each layer named beside it. */
export function SectionDrawing(props: SectionProps) {
  const { section, label, prefix = 'section' } = props;
  const scale = scaleOf(section);
  const wall = section.wall.map(([x, y]) => `${scale.x(x)} ${scale.y(y)}`);
  const [left, , , right] = section.wall;
  const { placed, bottom } = placeLabels(props, scale);
  const height = Math.max(scale.bottom + 30, bottom + 6);
  return (
    <svg class="section" viewBox={`0 0 ${width} ${round(height)}`} role="img" aria-label={label}>
      <Fillings prefix={prefix} />
      {section.layers.map((layer, i) => (
        <polygon
          key={layer.name + String(layer.fromMm)}
          class="section-layer"
          points={points(scale, layer.outline)}
          fill={`url(#${prefix}-${i % 4})`}
        />
      ))}
      <path class="section-wall" d={`M${wall.join('L')}`} />
      {left && right && (
        <path
          class="section-lid"
          d={`M${scale.x(left[0]) - 3} ${scale.y(section.heightMm) - 4}H${scale.x(right[0]) + 3}`}
        />
      )}
      <Labels placed={placed} scale={scale} />
      <ScaleBar {...props} scale={scale} />
    </svg>
  );
}

/** The drawing in words, for those who cannot see it. */
export function sectionLabel(section: Section, units: UnitSystem, locale?: string): string {
  const layers = section.layers.map(
    (layer) => `${layer.name} ${formatLength(layer.toMm - layer.fromMm, units, locale)}`,
  );
  const free =
    section.freeHeadMm > 0 ? [`${formatLength(section.freeHeadMm, units, locale)} free above`] : [];
  return `Section from the floor up: ${[...layers, ...free].join('; ')}`;
}
