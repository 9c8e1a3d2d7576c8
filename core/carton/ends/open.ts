import { type EndMaker, noParts } from './end.ts'

/** The body's bare edge. */
export const openEnd: EndMaker = {
  levels: () => ({ back: 0, front: 0, 'left side': 0, 'right side': 0 }),
  inner: 0,
  outer: 0,
  draw: () => noParts,
}
