import { ReaderLight, type ReaderPose } from './light.ts'
import { type Readable, ReaderSurface } from './surface.ts'
import type { CodeGround, Told } from './told.ts'

/**
 * A code that reads straight on and is lost to a reader that leans, held with its two lights as it may be: the mean of a
 * ring of light would hide what one of them flashes.
 * @param lit   directions in which the lights lie, radians: a reader of bars has them along the bars, of others either way
 * @param reads whether it reads on what a reader sees
 */
export function tiltFinding(
  { input, tables, tile, limits }: CodeGround,
  lit: readonly number[],
  reads: (surface: Readable) => boolean,
): readonly Told[] {
  const tilt = limits('codes.tilt')
  if (tilt.value === 0) return []
  const ruling = limits('codes.screen-ruling').value / 10
  const poses = [0, 1, 2, 3].map(
    (quarter): ReaderPose => ({ tiltDeg: tilt.value, towards: lit[0]! + (quarter * Math.PI) / 2 }),
  )
  const readsUnder = (pose: ReaderPose, along: number) =>
    reads(new ReaderSurface(input.map, tile, new ReaderLight(tables, 'along', along, pose), ruling))
  const lost = poses.filter(pose => !lit.every(along => readsUnder(pose, along))).length
  if (lost === 0) return []
  return [
    {
      severity: 'warning',
      code: 'code-tilt',
      message: `it reads straight on, but not with the reader leaning ${tilt.value}° ${lost === 4 ? 'to any side' : `to ${lost} of 4 sides`}`,
      fix: 'Print it on an opaque white that reaches under its light margins, away from holography.',
      measured: { value: lost, unit: 'of 4 sides' },
      limit: tilt,
    },
  ]
}
