import type { Art, ArtFile } from '../art/layer.ts'
import type { Task } from '../base/task.ts'
import type { Blank } from '../carton/blank.ts'
import type { Point } from '../carton/die.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import type { Scene } from '../reference/scene.ts'
import type { Assigned } from '../roles/role.ts'
import type { CheckFinding, CheckName } from './finding.ts'
import type { OwnLimits } from './limits.ts'
import type { MapPart } from './map-part.ts'
import type { MarkedArea } from './marked.ts'

/** What every check reads: the job as it was worked out, and the art it came from. */
export interface CheckInput {
  readonly art: Art
  /** Pixels and outlines on demand, at the art's own resolution; null for a job without art. */
  readonly file: ArtFile | null
  readonly assigned: readonly Assigned[]
  readonly map: MaterialMap
  /** Lamps, eye and board of the job; the panel's pose is the one it is held in. */
  readonly scene: Scene
  /** One set a spectrum among the lamps, as `bakingsOf` names them. */
  readonly sets: readonly Tables[]
  /** The blank that the art is folded into; null where the panel stays flat. */
  readonly blank: Blank | null
  /** Lower left corner of the art on the blank for each panel that shows some of it, mm, as `artCorners` says. */
  readonly corners: ReadonlyMap<string, Point>
  readonly limits: OwnLimits
  /** Areas that somebody marked; none where left out. */
  readonly marked?: readonly MarkedArea[]
  /** Keeps what parts come to from check to check; left out: nothing is kept. */
  readonly keep?: Keep
}

/** See `kept` in `keeper.ts`. */
export type Keep = <T>(
  name: string,
  keys: readonly unknown[],
  run: (input: CheckInput) => T | Promise<T>,
  part: MapPart | null,
) => Promise<T>

/** One check. Throws Cancelled when told to stop; what is wrong with the job is a finding, never an error. */
export interface CheckPart {
  readonly name: CheckName
  /** What it looks at, for a reader. */
  readonly says: string
  /** It is worked out elsewhere: others run meanwhile. */
  readonly beside?: boolean
  run(input: CheckInput, task?: Task): Promise<readonly CheckFinding[]>
}
