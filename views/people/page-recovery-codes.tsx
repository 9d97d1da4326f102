import { LinkButton } from '../layout/button.tsx';
import type { Furniture } from '../layout/furniture.ts';
import { Shell } from '../layout/shell.tsx';

export type RecoveryCodesPageProps = { furniture: Furniture; codes: readonly string[] };

/** Shown this once: only their hashes are kept. */
export function RecoveryCodesPage({ furniture, codes }: RecoveryCodesPageProps) {
  return (
    <Shell
      furniture={furniture}
      title="Your recovery codes"
      purpose="For the day your phone is lost. Write them down or print this page now: they are not shown again."
    >
      <ol class="recovery-codes">
        {codes.map((code) => (
          <li key={code}>
            <code>{code}</code>
          </li>
        ))}
      </ol>
      <p>
        Each opens your account once, together with your password, in place of a code from the phone. Keep
        them where you keep keys, not beside the password. Codes you had before open nothing any more.
      </p>
      <LinkButton href="/account" kind="main">
        I have them
      </LinkButton>
    </Shell>
  );
}
