import { normalDraws, type RandomStreams, runningShares } from "./random-draws.ts";
import type { SyntheticSettings } from "./synthetic-options.ts";

/** Who operates, by place. */
export interface Surgeons {
  readonly count: number;
  readonly centres: number;
  readonly centre: Uint16Array;
  /** Running share of the operations, up to 1. */
  readonly runningVolume: Float64Array;
  /** Factor on every revision hazard, with mean 1 over all surgeons that could have been drawn. */
  readonly frailty: Float64Array;
}

/** The busiest surgeon does at most four times what the least busy one does. */
const SMALLEST_VOLUME = 0.5;
const VOLUME_RANGE = 1.5;

export function drawSurgeons(settings: SyntheticSettings, streams: RandomStreams): Surgeons {
  const { surgeons: count, centres, planted } = settings;
  const volumeStream = streams.stream("surgeon.volume");
  const normal = normalDraws(streams.stream("surgeon.frailty"));
  const centre = Uint16Array.from({ length: count }, (_, surgeon) => surgeon % centres);
  const volumes = Array.from(
    { length: count },
    () => SMALLEST_VOLUME + VOLUME_RANGE * volumeStream.uniform(),
  );
  const frailty = Float64Array.from({ length: count }, () =>
    frailtyFactor(normal(), planted.surgeonFrailtySd),
  );
  return { count, centres, centre, runningVolume: runningShares(volumes), frailty };
}

/** Lognormal factor with mean 1, so that frailty leaves the population's hazards where they were. */
export function frailtyFactor(normal: number, sd: number): number {
  return Math.exp(sd * normal - (sd * sd) / 2);
}
