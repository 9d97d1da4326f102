import { connect, createServer, type Socket } from 'node:net';

/** A line between browsers and the service that fails as lines do. */
export type Line = {
  port: number;
  /** Nothing gets through any more, from this moment. */
  cut(): void;
  mend(): void;
  /** From this moment something before the service answers for it, as a proxy does while there is none. */
  answerInstead(): void;
  /** The next request whose first line matches arrives, but its answer is lost, and with it the line. */
  loseAnswerTo(request: RegExp): void;
  /** The next request whose first line matches is cut off half way, and with it the line. */
  breakInside(request: RegExp): void;
  /** First lines of all requests that have begun to pass, in order. */
  passed: string[];
  close(): Promise<void>;
};

type Fault = { kind: 'lose answer' | 'break'; request: RegExp };

const badGateway = '<h1>502 Bad Gateway</h1>';

function answer(near: Socket) {
  near.on('error', () => near.destroy());
  near.once('data', () =>
    near.end(
      `HTTP/1.1 502 Bad Gateway\r\nContent-Type: text/html\r\nContent-Length: ${badGateway.length}\r\nConnection: close\r\n\r\n${badGateway}`,
    ),
  );
  return near;
}

export async function openLine(toPort: number): Promise<Line> {
  const sockets = new Set<Socket>();
  const passed: string[] = [];
  let isCut = false;
  let answersInstead = false;
  let fault: Fault | null = null;

  const cut = () => {
    isCut = true;
    for (const socket of sockets) socket.destroy();
  };
  const strike = (firstLine: string): Fault['kind'] | null => {
    if (!fault?.request.test(firstLine)) return null;
    const { kind } = fault;
    fault = null;
    return kind;
  };
  const carry = (near: Socket) => {
    if (isCut) return near.destroy();
    if (answersInstead) return answer(near);
    const far = connect(toPort, '127.0.0.1');
    let answerIsLost = false;
    for (const socket of [near, far]) {
      sockets.add(socket);
      socket.on('error', () => socket.destroy());
      socket.on('close', () => {
        sockets.delete(socket);
        near.destroy();
        far.destroy();
      });
    }
    near.on('data', (chunk: Buffer) => {
      const [firstLine = ''] = chunk.toString('latin1').split('\r\n', 1);
      const isRequest = /^[A-Z]+ \S+ HTTP\/1\.1$/.test(firstLine);
      if (isRequest) passed.push(firstLine.replace(' HTTP/1.1', ''));
      const struck = isRequest ? strike(firstLine) : null;
      if (struck === 'lose answer') answerIsLost = true;
      if (struck === 'break') {
        isCut = true;
        far.write(chunk.subarray(0, Math.floor(chunk.length / 2)), cut);
      } else {
        far.write(chunk);
      }
    });
    far.on('data', (chunk: Buffer) => (answerIsLost ? cut() : near.write(chunk)));
    return near;
  };
  const server = createServer(carry);
  await new Promise<void>((resolve) => {
    server.listen(0, '127.0.0.1', resolve);
  });
  const own = server.address();
  return {
    port: own !== null && typeof own === 'object' ? own.port : 0,
    cut,
    mend: () => {
      isCut = false;
      answersInstead = false;
    },
    answerInstead: () => {
      answersInstead = true;
      for (const socket of sockets) socket.destroy();
    },
    loseAnswerTo: (request) => {
      fault = { kind: 'lose answer', request };
    },
    breakInside: (request) => {
      fault = { kind: 'break', request };
    },
    passed,
    close: () => {
      cut();
      return new Promise((resolve) => {
        server.close(() => resolve());
      });
    },
  };
}
