import { Piscina } from 'piscina';

/** A thread for one kind of question, started when it is first needed and ended when it has had nothing to do for a while. */
export function oneThread<Question, Answer>(file: URL): () => Piscina<Question, Answer> {
  let pool: Piscina<Question, Answer> | null = null;
  return () => {
    pool ??= new Piscina<Question, Answer>({
      filename: file.href,
      minThreads: 0,
      maxThreads: 1,
      concurrentTasksPerWorker: 1,
      idleTimeout: 60_000,
    });
    return pool;
  };
}
