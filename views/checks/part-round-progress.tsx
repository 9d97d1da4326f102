import { Progress } from '../layout/progress.tsx';

/** How far the round is; comes along with a row that htmx swaps. */
export function RoundProgress(props: { done: number; total: number; locale?: string; oob?: boolean }) {
  return (
    <div id="round-progress" hx-swap-oob={props.oob ? 'true' : undefined}>
      <Progress done={props.done} total={props.total} label="cultures done" locale={props.locale} />
    </div>
  );
}
