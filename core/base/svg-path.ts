import { type SVGCommand, SVGPathData, SVGPathDataParser, SVGPathDataTransformer } from 'svg-pathdata'

/** One step of a path in absolute coordinates; arcs and quadratic curves have become cubics. */
export type PathStep =
  | { readonly kind: 'move' | 'line'; readonly to: readonly [x: number, y: number] }
  | {
      readonly kind: 'curve'
      readonly out: readonly [x: number, y: number]
      readonly into: readonly [x: number, y: number]
      readonly to: readonly [x: number, y: number]
      /** It ends on the way of an arc, where the drawing has no vertex. */
      readonly inner?: true
    }
  | { readonly kind: 'close' }

/**
 * Path data of SVG 1.1, section 8.3, as steps. An arc becomes one cubic a quarter turn, which strays from it by at most
 * 2.8e-4 of its radius.
 * @returns the steps up to the first mistake, as SVG asks for, and what the mistake is
 */
export function pathSteps(d: string): {
  readonly steps: readonly PathStep[]
  readonly mistake: string | null
} {
  const commands: SVGCommand[] = []
  let mistake: string | null = null
  try {
    const parser = new SVGPathDataParser()
    parser.parse(d, commands)
    parser.finish(commands)
  } catch (error) {
    mistake = error instanceof Error ? error.message.replace(/\.$/, '') : String(error)
  }
  if (commands.length > 0 && commands[0]!.type !== SVGPathData.MOVE_TO)
    return { steps: [], mistake: mistake ?? 'a path must begin with a move' }
  const steps: PathStep[] = []
  try {
    const plain = new SVGPathData(commands)
      .transform(SVGPathDataTransformer.TO_ABS())
      .transform(SVGPathDataTransformer.NORMALIZE_HVZ(false))
      .transform(SVGPathDataTransformer.NORMALIZE_ST())
      .transform(SVGPathDataTransformer.QT_TO_C())
    const curves = SVGPathDataTransformer.A_TO_C()
    for (const command of plain.commands) {
      const made = [curves(command)].flat()
      for (const [i, one] of made.entries()) {
        const step = stepOf(one)
        steps.push(step.kind === 'curve' && i < made.length - 1 ? { ...step, inner: true } : step)
      }
    }
  } catch (error) {
    mistake ??= error instanceof Error ? error.message.replace(/\.$/, '') : String(error)
  }
  return { steps, mistake }
}

function stepOf(command: SVGCommand): PathStep {
  switch (command.type) {
    case SVGPathData.MOVE_TO:
      return { kind: 'move', to: [command.x, command.y] }
    case SVGPathData.LINE_TO:
      return { kind: 'line', to: [command.x, command.y] }
    case SVGPathData.CURVE_TO:
      return {
        kind: 'curve',
        out: [command.x1, command.y1],
        into: [command.x2, command.y2],
        to: [command.x, command.y],
      }
    case SVGPathData.CLOSE_PATH:
      return { kind: 'close' }
    default:
      throw new RangeError(`path: expected plain commands, got ${command.type}`)
  }
}
