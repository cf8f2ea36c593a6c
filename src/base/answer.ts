/** Why a statistic has no value. The code is stable; the sentence is for readers. */
export interface NotComputed {
  readonly computed: false;
  readonly code: string;
  readonly because: string;
}

/** A statistic that either was computed or says why it could not be. Never NaN, never Infinity. */
export type Answer<Value> = (Value & { readonly computed: true }) | NotComputed;

export function notComputed(code: string, because: string): NotComputed {
  return { computed: false, code, because };
}

export function computed<Value extends object>(value: Value): Value & { readonly computed: true } {
  return { ...value, computed: true };
}
