/** Lines of a file that came back, and what is wrong with each. */
export function FileFaults({ faults }: { faults: readonly { line: number; why: string }[] }) {
  if (faults.length === 0) return null;
  return (
    <ul>
      {faults.map(({ line, why }) => (
        <li key={line}>
          Line {line}: {why}.
        </li>
      ))}
    </ul>
  );
}
