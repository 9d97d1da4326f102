import { Actions, Button, LinkButton } from './button.tsx';
import type { Furniture } from './furniture.ts';
import { Shell } from './shell.tsx';

export type ErrorPageProps = {
  status: number;
  requestId: string;
  /** Left out when even the furniture could not be made. */
  furniture?: Furniture;
  /** In place of the usual words. */
  title?: string;
  message?: string;
  /** What was sent and not taken; the same form, to be sent once more. */
  again?: { action: string; fields: readonly (readonly [string, string])[] };
};

const bare: Furniture = {
  businessName: 'Broodbench',
  who: null,
  nav: '',
  csrfToken: '',
  formKey: '',
  notice: null,
  scheme: 'system',
  assetVersion: '0',
};

function wordsFor(status: number): { title: string; sentence: string } {
  if (status === 404) {
    return {
      title: 'Not found',
      sentence: 'There is nothing at this address, or it is not yours to see. Look for it in its list.',
    };
  }
  if (status === 403) {
    return {
      title: 'Not allowed',
      sentence:
        'Your account may not do this, or the page had been open too long. Go back, reload it and try again.',
    };
  }
  if (status === 429) {
    return { title: 'Too many tries', sentence: 'Wait a few minutes, then try again.' };
  }
  if (status === 503) {
    return { title: 'Busy just now', sentence: 'Nothing was saved. Wait a moment, then try again.' };
  }
  if (status >= 400 && status < 500) {
    return {
      title: 'That request could not be read',
      sentence: 'Nothing was changed. Go back, check what was sent and try again.',
    };
  }
  return {
    title: 'Something went wrong here',
    sentence:
      'It is not your doing, and it has been written down. Go back and try again; what was saved before is safe.',
  };
}

/** Hidden: a form looks different on every page, and this is no place to change it. */
const SendAgain = ({ action, fields }: NonNullable<ErrorPageProps['again']>) => (
  <form class="form" method="post" action={action}>
    {fields.map(([name, value], index) => (
      <input key={`${index} ${name}`} type="hidden" name={name} value={value} />
    ))}
    <Actions>
      <Button kind="main">Send it again</Button>
      <LinkButton href="/">To the first page</LinkButton>
    </Actions>
  </form>
);

/** A plain page for what could not be answered, with the id to look it up by. */
export function ErrorPage({ status, requestId, furniture = bare, again, ...own }: ErrorPageProps) {
  const { title, sentence } = wordsFor(status);
  return (
    <Shell furniture={furniture} title={own.title ?? title}>
      <p>{own.message ?? sentence}</p>
      {again ? (
        <SendAgain {...again} />
      ) : (
        <p>
          <a href="/">To the first page</a>
        </p>
      )}
      <p class="quiet">
        Answer {status}, request <span class="request-id">{requestId}</span>
      </p>
    </Shell>
  );
}
