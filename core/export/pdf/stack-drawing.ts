import type { StackLayer } from '../stack-layers.ts'
import { type Flow, styles } from './flow.ts'
import { border, columnWidth } from './paper.ts'

const wide = 150

/** Height, points, and colour of a layer; heights tell layers apart and are to no scale. */
const looks: Readonly<
  Record<StackLayer['kind'], { readonly high: number; readonly rgb: readonly [number, number, number] }>
> = {
  varnish: { high: 16, rgb: [0.88, 0.93, 0.98] },
  ink: { high: 16, rgb: [0.35, 0.42, 0.62] },
  white: { high: 18, rgb: [0.97, 0.97, 0.95] },
  film: { high: 20, rgb: [0.86, 0.92, 0.93] },
  lacquer: { high: 18, rgb: [0.9, 0.9, 0.97] },
  metal: { high: 14, rgb: [0.62, 0.65, 0.68] },
  glue: { high: 14, rgb: [0.95, 0.9, 0.76] },
  board: { high: 34, rgb: [0.87, 0.82, 0.73] },
}

/** The layers of a carton over one another, the eye above, each with its name beside it. Not to scale. */
export function stackDrawing(flow: Flow, layers: readonly StackLayer[]): void {
  const x = border.left
  const words = x + wide + 14
  const room = columnWidth - wide - 14
  for (const [i, { kind, name, says }] of layers.entries()) {
    const { high, rgb } = looks[kind]
    const text = flow.lines(says, styles.caption, room - 130)
    const needs = Math.max(high, text.length * 10 + 4)
    flow.need(needs)
    const top = flow.y
    flow.box(x, top, wide, needs, rgb)
    if (kind === 'metal') relief(flow, x, top)
    if (i > 0) flow.rule(x, top, wide, 0.35, 0.4)
    const line = top + needs / 2 + 3
    const [named = '', ...rest] = flow.lines(name, styles.cellStrong, 124)
    flow.put(rest.length > 0 ? `${named.slice(0, -1)}…` : named, words, line, styles.cellStrong)
    for (const [k, part] of text.entries())
      flow.put(part, words + 130, line + (k - (text.length - 1) / 2) * 10, styles.caption)
    flow.rule(x + wide + 3, top + needs / 2, 8, 0.5, 0.4)
    flow.y += needs
  }
  flow.rule(x, flow.y, wide, 0.35, 0.4)
  flow.gap(4)
  flow.paragraph('From the eye down, not to scale. Print lies only where the art has it.', styles.caption)
}

/** Grooves, as a line along the top of the metal. */
function relief(flow: Flow, left: number, top: number): void {
  const step = 5
  const points = Array.from(
    { length: wide / step + 1 },
    (_, i) => [left + i * step, top + (i % 2 === 0 ? 4 : 1)] as const,
  )
  flow.path(points, 0.15, 0.6)
}
