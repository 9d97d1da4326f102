import { cultureHref } from '../cultures/page-list.tsx';
import { AboutCulture, CultureHeading } from '../cultures/part-about.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { Field, Form, TextAreaField } from '../layout/form.tsx';
import { formatPercent } from '../layout/format.ts';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';
import { PhotoBoard, type PhotoData } from './part-photo.tsx';

export type TapPageProps = {
  furniture: Furniture;
  code: string;
  scientificName: string;
  /** The share of the species that shows on average. */
  shows: number;
  photo: PhotoData;
  today: string;
};

/** Tap every animal on the photo; without a script the number is typed beside it. Ends as a visible count. */
export function TapPage({ furniture, code, scientificName, shows, photo, today }: TapPageProps) {
  const at = cultureHref(code);
  return (
    <Shell
      furniture={furniture}
      title={`Count on the photo of ${code}`}
      heading={<CultureHeading code={code}>Count on the photo of</CultureHeading>}
      purpose={<AboutCulture scientificName={scientificName}>count by tapping what shows.</AboutCulture>}
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
        { href: `${at}/photo`, label: 'Photo' },
      ]}
      width="wide"
    >
      <p>Tap every animal you see, or write their number in the field.</p>
      <Form furniture={furniture} action={`${at}/count`} keyPart={`photo-${photo.id}`}>
        <input type="hidden" name="method" value="visible" />
        <input type="hidden" name="photo" value={photo.id} />
        <input type="hidden" name="taps" value="[]" />
        <PhotoBoard photo={photo} kept={`photo ${photo.id}`} />
        <p>
          <button type="button" class="button button-plain" data-untap hidden>
            Take the last tap away
          </button>
        </p>
        <Field
          label="Seen"
          name="counted"
          size="short"
          help={`Of this species about ${formatPercent(shows)} show on average.`}
          required
        />
        <Field label="Day" name="onDay" type="date" value={today} max={today} />
        <TextAreaField label="Note" name="note" rows={2} maxLength={3500} optional />
        <Actions>
          <Button kind="main">Write it down</Button>
          <LinkButton href={`${at}/photo`}>Another photo</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
