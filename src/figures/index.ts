export { curveFigure } from "./curve-figure.ts";
export { differenceFigure } from "./difference-figure.ts";
export type { FigureOptions } from "./figure-frame.ts";
export { flowFigure } from "./flow-figure.ts";
export { lineFigure } from "./line-figure.ts";
export { ratioFigure } from "./ratio-figure.ts";
export { shareFigure } from "./share-figure.ts";
