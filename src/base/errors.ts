/**
 * A wrong argument or setting, found before any work was done.
 *
 * The message says where, what is wrong, what is accepted and what to do, in that order.
 */
export class ArgumentError extends Error {
  override readonly name = "ArgumentError";
}

/** The data, the plan or a file cannot be used as it is; the message is written for the person at the keyboard. */
export class UsageError extends Error {
  override readonly name = "UsageError";
  readonly code: string;

  constructor(code: string, message: string) {
    super(message);
    this.code = code;
  }
}
