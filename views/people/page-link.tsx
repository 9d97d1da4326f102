import { LinkButton } from '../layout/button.tsx';
import { Field } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Moment } from '../layout/number.tsx';
import { Shell } from '../layout/shell.tsx';

export type LinkPageProps = {
  furniture: Furniture;
  purpose: 'invitation' | 'reset';
  name: string;
  /** Null when the link was shown before and cannot be shown again. */
  address: string | null;
  until: number;
  timeZone: string;
  locale: string;
};

const words = {
  invitation: {
    title: (name: string) => `A link for ${name}`,
    what: 'They choose a sign-in name and a password there.',
    gone: 'This link was shown once and is not kept. Withdraw the invitation and make a new one.',
  },
  reset: {
    title: (name: string) => `A new password for ${name}`,
    what: 'They choose a new password there. The old one has stopped working, and their sessions have ended.',
    gone: 'This link was shown once and is not kept. Reset the password again for a new one.',
  },
} as const;

/** A one-time link, to be copied now. */
export function LinkPage({ furniture, purpose, name, address, until, timeZone, locale }: LinkPageProps) {
  const { title, what, gone } = words[purpose];
  return (
    <Shell
      furniture={furniture}
      title={title(name)}
      breadcrumbs={[{ href: '/people', label: 'People' }]}
      purpose={address ? what : undefined}
    >
      {address ? (
        <>
          <Field
            label="One-time link"
            name="link"
            id="one-time-link"
            value={address}
            readOnly
            size="long"
            help={
              <>
                Opens once, until <Moment at={until} timeZone={timeZone} locale={locale} />.
              </>
            }
          />
          <Notice tone="needs-you">
            Copy it now and give it to {name} yourself: whoever has it can use it, and this page shows it only
            once.
          </Notice>
        </>
      ) : (
        <Notice tone="needs-you">{gone}</Notice>
      )}
      <LinkButton href="/people">Back to people</LinkButton>
    </Shell>
  );
}
