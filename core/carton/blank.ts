import type { Die, Outline, Point } from './die.ts'

/** One leaf of board: it stays flat, whatever folds. */
export interface Panel {
  /** Unique in the blank, in trade words: `front`, `top lid`, `glue flap`. */
  readonly name: string
  /** Counter-clockwise, mm. */
  readonly outline: Outline
  /** Openings inside it, clockwise, mm; none where left out. */
  readonly windows?: readonly Outline[]
}

/** A place on a hinge's way: at `amount` of the fold slider it stands at `deg`. */
export interface Stop {
  /** 0..1. */
  readonly amount: number
  readonly deg: number
  /** How far its leaf then stands off toward its print side, mm; 0 where left out: board folded back upon board makes a crease give. */
  readonly liftMm?: number
}

/** A crease that two panels turn about. */
export interface Hinge {
  /** Unique in the blank. */
  readonly name: string
  /** The panel nearer to the root. */
  readonly parent: string
  readonly child: string
  /** Ends of the crease, mm. Which comes first does not matter. */
  readonly from: Point
  readonly to: Point
  /** Degrees when the carton is closed; above 0 away from the print side, so that print comes outside. */
  readonly closedDeg: number
  /** Amount of the fold slider, 0..1, at which it begins to turn, and at which it is closed. */
  readonly begins: number
  readonly ends: number
  /** Stops between `begins` and `ends`, by rising amount, where it does not turn evenly. */
  readonly via?: readonly Stop[]
  /** Depth of the axis under the print side, mm; half the caliper where it is not given. */
  readonly axisMm?: number
}

/** The unfolded carton: its box has its lower left corner at 0, 0. */
export interface Blank {
  /** Size of the box around the cut, mm. */
  readonly widthMm: number
  readonly heightMm: number
  /** Thickness of the board, mm, > 0. */
  readonly caliperMm: number
  readonly panels: readonly Panel[]
  /** A tree: each panel but the root is the child of one hinge. */
  readonly hinges: readonly Hinge[]
  /** Name of the panel that stays where it is. */
  readonly root: string
  readonly die: Die
}

/** Panel of a name. Throws RangeError where the blank has none. */
export function panelOf(blank: Blank, name: string): Panel {
  const panel = blank.panels.find(one => one.name === name)
  if (panel === undefined) throw new RangeError(`blank: expected a panel "${name}"`)
  return panel
}

/** Hinges so that each comes after the one that carries its parent. Throws RangeError where they are no tree from the root. */
export function hingesFromRoot({ root, panels, hinges }: Blank): readonly Hinge[] {
  const reached = [root]
  const ordered: Hinge[] = []
  for (let i = 0; i < reached.length; i++)
    for (const hinge of hinges)
      if (hinge.parent === reached[i]) {
        ordered.push(hinge)
        reached.push(hinge.child)
        if (reached.length > panels.length)
          throw new RangeError('blank: expected a tree of hinges, got a loop')
      }
  if (reached.length < panels.length)
    throw new RangeError(
      `blank: expected every panel to hang on the root, got ${panels.length - reached.length} that do not`,
    )
  return ordered
}
