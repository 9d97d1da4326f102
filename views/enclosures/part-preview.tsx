import type { Section } from '../../shared/enclosures/section.ts';
import type { EnclosureMeasures } from '../../shared/enclosures/volume.ts';
import { formatVolume, type UnitSystem } from '../../shared/settings/units.ts';
import { Computed, WorkedOut } from '../layout/worked-out.tsx';
import { SectionDrawing, sectionLabel } from './part-section.tsx';
import { sayVolume } from './say-worked-out.ts';

export type EnclosurePreviewProps = {
  preview: {
    section: Section;
    measures: EnclosureMeasures;
    substrateDepthMm: number;
    substrateLitres: number;
    totalLitres: number;
  } | null;
  units: UnitSystem;
  locale: string | undefined;
};

/** What the measures come to: follows the form while it is filled in. */
export function EnclosurePreview({ preview, units, locale }: EnclosurePreviewProps) {
  return (
    <div id="enclosure-preview" class="slip beside" aria-live="polite">
      {preview ? (
        <>
          <p class="lead">
            <Computed of="volume">
              {formatVolume(preview.substrateLitres, units, locale)} of substrate in{' '}
              {formatVolume(preview.totalLitres, units, locale)}
            </Computed>
          </p>
          <SectionDrawing
            section={preview.section}
            units={units}
            locale={locale}
            label={sectionLabel(preview.section, units, locale)}
            prefix="preview"
          />
          <WorkedOut of="volume" so={[sayVolume(preview, { units, locale })]} />
        </>
      ) : (
        <p class="quiet">The drawing and the litres stand here once the measures are filled in.</p>
      )}
    </div>
  );
}
