import { h } from 'preact';
import { measuresOf, volumeLitres } from '../../shared/enclosures/volume.ts';
import { EnclosuresPage } from '../../views/enclosures/page-enclosures.tsx';
import { type Answer, page } from '../plumbing/answers.ts';
import type { StaffCall } from '../plumbing/call.ts';
import { listEnclosures } from './queries.ts';

export function showEnclosures(call: StaffCall): Answer {
  const rows = listEnclosures(call.db).map(({ enclosure, cultures, homes }) => {
    const measures = measuresOf(enclosure);
    return {
      id: enclosure.id,
      name: enclosure.name,
      measures,
      substrateDepthMm: enclosure.substrateDepthMm,
      substrateLitres: volumeLitres(measures, enclosure.substrateDepthMm),
      totalLitres: volumeLitres(measures),
      ventilation: enclosure.ventilation,
      measured: enclosure.measured,
      retired: enclosure.retiredAt !== null,
      cultures,
      homes,
    };
  });
  return page(
    h(EnclosuresPage, {
      furniture: call.furniture,
      rows,
      units: call.business.units,
      mayEdit: call.who.role === 'owner',
    }),
  );
}
