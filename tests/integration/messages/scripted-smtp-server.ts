import net from 'node:net';

/** What a scripted server saw of one connection. */
export interface SeenConnection {
  readonly commands: string[];
  /** Everything after DATA, byte for byte. */
  data: string;
  /** Whether the end of the data (CRLF . CRLF) has arrived. */
  ended: boolean;
  closed: boolean;
}

/** What the server does; `drop` cuts the connection instead of answering. */
export interface Script {
  readonly greeting?: string | 'drop' | 'silence';
  readonly mailFrom?: string;
  readonly rcptTo?: string;
  readonly data?: string;
  readonly afterEnd?: string | 'drop' | 'silence';
  /** Cut the connection when so many bytes of data have come. */
  readonly dropAfterDataBytes?: number;
}

/**
 * A bare mail server on the loopback that speaks just enough of RFC 5321 to misbehave on purpose, and keeps what it
 * saw byte for byte. It shares no code with the client under test.
 */
export async function startScriptedServer(script: Script): Promise<{
  readonly url: string;
  readonly seen: SeenConnection[];
  stop(): Promise<void>;
}> {
  const seen: SeenConnection[] = [];
  const sockets = new Set<net.Socket>();
  const server = net.createServer((socket) => {
    const connection: SeenConnection = { commands: [], data: '', ended: false, closed: false };
    seen.push(connection);
    sockets.add(socket);
    let inData = false;
    let pending = '';
    const say = (line: string): void => void socket.write(`${line}\r\n`);
    socket.on('error', () => undefined);
    socket.on('close', () => {
      connection.closed = true;
      sockets.delete(socket);
    });
    if (script.greeting === 'drop') socket.destroy();
    else if (script.greeting !== 'silence') say(script.greeting ?? '220 test ready');
    socket.on('data', (chunk) => {
      if (inData) {
        takeData(chunk.toString('latin1'));
        return;
      }
      pending += chunk.toString('latin1');
      for (let end = pending.indexOf('\r\n'); end >= 0 && !inData; end = pending.indexOf('\r\n')) {
        const line = pending.slice(0, end);
        pending = pending.slice(end + 2);
        command(line);
      }
      if (inData && pending) takeData(pending);
    });

    function command(line: string): void {
      connection.commands.push(line);
      const verb = line.slice(0, 4).toUpperCase();
      const replies: Record<string, string> = {
        EHLO: '250 test',
        MAIL: script.mailFrom ?? '250 sender ok',
        RCPT: script.rcptTo ?? '250 recipient ok',
        DATA: script.data ?? '354 go ahead',
        QUIT: '221 bye',
      };
      const reply = replies[verb] ?? '250 ok';
      say(reply);
      if (verb === 'QUIT') socket.end();
      if (verb === 'DATA') inData = reply.startsWith('3');
    }

    function takeData(text: string): void {
      connection.data += text;
      pending = '';
      if (script.dropAfterDataBytes !== undefined && connection.data.length >= script.dropAfterDataBytes) {
        socket.destroy();
        return;
      }
      if (!connection.data.endsWith('\r\n.\r\n')) return;
      connection.ended = true;
      inData = false;
      if (script.afterEnd === 'drop') socket.destroy();
      else if (script.afterEnd !== 'silence') say(script.afterEnd ?? '250 taken');
    }
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as net.AddressInfo;
  return {
    url: `smtp://127.0.0.1:${port}?tls=off`,
    seen,
    stop: async () => {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
