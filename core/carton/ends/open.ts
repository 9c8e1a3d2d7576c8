import { type EndMaker, levelFaces, noParts } from './end.ts'

/** The body's bare edge. */
export const openEnd: EndMaker = {
  uses: [],
  levels: () => ({ back: 0, front: 0, 'left side': 0, 'right side': 0 }),
  faces: levelFaces(0, 0),
  draw: () => noParts,
}
