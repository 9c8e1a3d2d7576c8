import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import type { XYZ } from '../../../core/color/xyz.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import type { Stack } from '../../../core/optics/matter.ts'
import type { Rays } from '../../../core/optics/rays.ts'
import { type Board, defaultBoard } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { wavinessVariances } from '../../../core/optics/varnish.ts'
import { shade } from '../../../core/reference/shade.ts'
import { foil, platesOf, raysOf, sinusoid, siteOf, toward } from '../../support/optics.ts'

/** ΔE00 of the fast shading against the slow truth, the brighter of the two exposed to white. */
function off(stack: Stack, rays: Rays, board: Board): number {
  const tables = bakeTables({ illuminant: 'D65', board, ...platesOf(stack) })
  const room = { up: [0, 0.8, 0.6], level: 0.1 } as const
  const [X, Y, Z] = shade(siteOf(stack, rays, tables), tables, room, new Float64Array(3))
  const slow = seen(stack, rays, 'D65', board, room)
  const lit = underLamp(slow)
  const bright = Math.max(1, lit[1] + slow.room[1])
  const lab = (c: XYZ) => xyzToLab([c[0] / bright, c[1] / bright, c[2] / bright], illuminantWhite('D65'))
  return deltaE2000(
    lab([X!, Y!, Z!]),
    lab([lit[0] + slow.room[0], lit[1] + slow.room[1], lit[2] + slow.room[2]]),
  )
}

describe('board and white of the fast shading against the sum over every nanometre', () => {
  const gold: Board = { ...defaultBoard, tint: [79, 8, 46] }
  const matte: Board = { ...defaultBoard, varnishRoughness: 0.2, varnishScatter: 0.03 }
  const rough: Board = { ...gold, microRoughness: 14, hazeSpread: 0.12 }
  const white = (coverage: number, more: Partial<Stack['whites'][number]> = {}) => ({
    coverage,
    opacity: 0.25,
    hits: 1,
    ...more,
  })
  const lit = raysOf(toward(34), toward(2))
  const mirrored = raysOf(toward(15), toward(15, 180))
  // Twelve samples a band and tables at two slants: see the fast shading's own bounds.
  test.each<[string, Stack, Rays, Board, number]>([
    ['an order on gold', foil(sinusoid), lit, gold, 1],
    ['the mirror of gold', foil(), mirrored, gold, 0.5],
    ['the mirror of gold on a slant', foil(), raysOf(toward(55), toward(55, 180)), gold, 1],
    ['gold under ink', { ...foil(sinusoid), cmyk: [0.2, 0.5, 0, 0.1] }, lit, gold, 1],
    ['white over gold', { ...foil(sinusoid), whites: [white(0.7)] }, lit, gold, 1],
    ['haze of rough gold', foil(), raysOf(toward(20), toward(8, 180)), rough, 1],
    ['a spot ink on gold', { ...foil(), spots: [{ coverage: 0.7, lab: [60, 60, 70] }] }, mirrored, gold, 2],
    ['orders under matte varnish', { ...foil(sinusoid), varnish: 1 }, lit, matte, 1],
    ['half under matte varnish', { ...foil(sinusoid), varnish: 0.5 }, lit, matte, 1],
    ['the mirror half under it', { ...foil(), varnish: 0.5 }, mirrored, matte, 0.5],
    ['an even film', { ...foil(sinusoid), whites: [white(0.3, { screen: 'even' })] }, lit, defaultBoard, 1],
    [
      'mottle',
      { ...foil(sinusoid), unevenness: 1.3, whites: [white(0.6, { mottle: 0.4 })] },
      lit,
      defaultBoard,
      1,
    ],
    [
      'a pigment less forward',
      { ...foil(sinusoid), whites: [white(1)] },
      lit,
      { ...defaultBoard, forwardness: 0.3 },
      1,
    ],
  ])('%s', (_, stack, rays, board, allowed) => {
    expect(off(stack, rays, board)).toBeLessThan(allowed)
  })

  // Why partly varnished spots have two kernels: what one kernel of the mean variance would make of them.
  test('one kernel of the mean variance takes the glint out of the bare half', () => {
    const rays = raysOf(toward(15), toward(15, 180), 0.004)
    const board: Board = { ...defaultBoard, varnishScatter: 0.05 }
    const [bare, varnished] = wavinessVariances(board)
    const peak = (b: Board, varnish: number) => seen({ ...foil(), varnish }, rays, 'D65', b).mirror[1]
    const two = peak(board, 0.5) / peak(board, 0)
    const mean = { ...defaultBoard, waviness: Math.sqrt((bare + varnished) / 2) }
    const one = peak(mean, 0) / peak(board, 0)
    expect(two).toBeGreaterThan(0.5)
    expect(one).toBeLessThan(0.04)
  })
})
