import { enclosureForm, enclosureFromForm } from '../../shared/enclosures/form.ts';
import { sectionOf } from '../../shared/enclosures/section.ts';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import type { UnitSystem } from '../../shared/settings/units.ts';
import type { EnclosurePreviewProps } from '../../views/enclosures/part-preview.tsx';
import type { FormBody } from '../plumbing/call.ts';
import { readForm } from '../plumbing/forms.ts';

/** What the typed measures come to, or null while they are not complete. */
export function previewOf(fields: FormBody, units: UnitSystem): EnclosurePreviewProps['preview'] {
  const read = readForm(enclosureForm, { ...fields, name: fields.name || 'not named yet' });
  const made = read.ok ? enclosureFromForm(read.data, units, null) : null;
  if (!made?.ok) return null;
  const { substrateDepthMm } = made.values;
  const measures = measuresOf(made.values);
  return {
    section: sectionOf(measures, [{ name: 'Substrate', depthMm: substrateDepthMm }]),
    measures,
    substrateDepthMm,
    substrateLitres: volumeLitres(measures, substrateDepthMm),
    totalLitres: volumeLitres(measures),
  };
}
