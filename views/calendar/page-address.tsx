import { LinkButton } from '../layout/button.tsx';
import { Field } from '../layout/form.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Notice } from '../layout/notice.tsx';
import { Shell } from '../layout/shell.tsx';

type CalendarAddressPageProps = {
  furniture: Furniture;
  /** Null when it was shown before and cannot be shown again. */
  address: string | null;
};

/** The address of somebody's own calendar, to be copied now. */
export function CalendarAddressPage({ furniture, address }: CalendarAddressPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Your calendar’s address"
      breadcrumbs={[{ href: '/account', label: 'Your account' }]}
      purpose="What is due, what is planned and the packing days, in the calendar of your phone or computer."
    >
      {address ? (
        <>
          <Field
            label="Address"
            name="address"
            id="calendar-address"
            value={address}
            readOnly
            size="long"
            help="In your calendar choose to subscribe to a calendar by its address, and paste this one."
          />
          <Notice tone="needs-you">
            Copy it now: this page shows it only once, and it is not kept. Whoever has it can read your
            calendar without signing in, so pass it to nobody; a new address under your account stops this
            one.
          </Notice>
        </>
      ) : (
        <Notice tone="needs-you">
          This address was shown once and is not kept. Make a new one under your account.
        </Notice>
      )}
      <LinkButton href="/account">Back to your account</LinkButton>
    </Shell>
  );
}
