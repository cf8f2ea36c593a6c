/** Says on a terminal what is being done; silent in a pipe, so that logs and scripts see results only. */
export interface Progress {
  step(what: string): void;
  done(what: string): void;
}

export function progress(stream: NodeJS.WriteStream = process.stderr): Progress {
  const live = stream.isTTY === true;
  const clear = () => {
    stream.clearLine(0);
    stream.cursorTo(0);
  };
  return {
    step(what) {
      if (!live) return;
      clear();
      stream.write(`… ${what}`);
    },
    done(what) {
      if (!live) return;
      clear();
      if (what !== "") stream.write(`${what}\n`);
    },
  };
}
