import { type Background, surround } from '../../core/reference/display-picture.ts'
import type { FrameStyle } from '../workers/frame.ts'
import { type Args, UsageError } from './args.ts'
import { countOf, sizeOf } from './numbers.ts'

/** Pixels of a side: past them it is a slip of the finger. */
const mostPixels = 16_384
/** Rays a pixel along each side: the panel's edge and fine print do not crawl from frame to frame. */
const usualGrid = 2
const mostGrid = 8

/** Flags of every command that draws pictures. */
export const pictureFlags = {
  size: { value: 'WxH', needed: true, says: 'of each picture, pixels' },
  grid: {
    value: 'N',
    says: `rays a pixel along each side, 1 to ${mostGrid}; ${usualGrid} when left out. More: finer edges, smoother large lamps`,
  },
  background: {
    value: 'COLOUR',
    says: 'around the carton: #rrggbb or transparent; the grey of the window when left out',
  },
} as const

/** How pictures are drawn, as the flags want it. Throws UsageError. */
export function styleOf(args: Args): Omit<FrameStyle, 'depth'> {
  const grid = args.value('grid')
  return {
    ...sizeOf(args.need('size'), 'size', mostPixels),
    grid: grid === undefined ? usualGrid : countOf(grid, 'grid', 1, mostGrid),
    background: backgroundOf(args.value('background')),
  }
}

function backgroundOf(text: string | undefined): Background {
  if (text === undefined) return surround
  if (text === 'transparent') return text
  const match = /^#?([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(text)
  if (match === null)
    throw new UsageError(`--background: expected transparent or #rrggbb, such as #ffffff, got "${text}"`)
  const code = (i: number) => Number.parseInt(match[i]!, 16) / 255
  return [code(1), code(2), code(3)]
}
