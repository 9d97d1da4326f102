import { cultureHref } from '../cultures/page-list.tsx';
import { AboutCulture, CultureHeading } from '../cultures/part-about.tsx';
import { Actions, Button, LinkButton } from '../layout/button.tsx';
import { ErrorSummary, Field, Form, type FormState, fieldOf } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type PhotoPageProps = { furniture: Furniture; code: string; scientificName: string; form: FormState };

export function PhotoPage({ furniture, code, scientificName, form }: PhotoPageProps) {
  const at = cultureHref(code);
  const { value: _none, ...field } = fieldOf(form, 'photo');
  return (
    <Shell
      furniture={furniture}
      title={`Photo of ${code}`}
      heading={<CultureHeading code={code}>Photo of</CultureHeading>}
      purpose={
        <AboutCulture scientificName={scientificName}>a photo to count what shows on it.</AboutCulture>
      }
      breadcrumbs={[
        { href: '/cultures', label: 'Cultures' },
        { href: at, label: code },
        { href: `${at}/count?method=visible`, label: 'Count' },
      ]}
    >
      <p>
        Open the lid and take a photo of the wall, the lid or the bark before the animals hide. On the next
        page you tap every one of them.
      </p>
      <Form furniture={furniture} action={`${at}/photo`} encType="multipart/form-data">
        <ErrorSummary errors={form.errors} labels={{ photo: 'Photo' }} title="Not kept yet. What to mend:" />
        <Field
          label="Photo"
          type="file"
          accept="image/jpeg,image/png,image/webp,image/avif"
          help="JPEG, PNG, WebP or AVIF, up to 10 MB; on weak Wi-Fi it may take up to four minutes. It is made smaller; where and with what it was taken is not kept."
          {...field}
          required
        />
        <Actions>
          <Button kind="main">Send the photo</Button>
          <LinkButton href={`${at}/count?method=visible`}>Leave</LinkButton>
        </Actions>
      </Form>
    </Shell>
  );
}
