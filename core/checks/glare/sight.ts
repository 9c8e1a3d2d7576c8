import { fromLeaf, type Standing } from '../../reference/pose.ts'
import { inObject, type Leaf, meet, noHit } from '../../reference/solid.ts'
import { minus, toPanel, toTable, type Vec3 } from '../../reference/vector.ts'

/** A leaf as the eye has it. */
interface SeenLeaf {
  readonly leaf: Leaf
  /** Leaf's frame. */
  readonly eye: Vec3
  /** Where it lies in the picture, sizes over depth, and how near it comes; all of the picture where it comes too near. */
  readonly left: number
  readonly right: number
  readonly bottom: number
  readonly top: number
  readonly nearest: number
}

/** What an eye sees of the leaves of a solid: which places, past the other leaves, and how large. */
export class Sight {
  readonly #leaves: readonly SeenLeaf[]
  readonly #standing: Standing
  readonly #distanceMm: number

  /** @param standing of the whole object */
  constructor(leaves: readonly Leaf[], standing: Standing, eyeDistanceMm: number) {
    this.#standing = standing
    this.#distanceMm = eyeDistanceMm
    this.#leaves = leaves.map(leaf => this.#seen(leaf))
  }

  /**
   * Picture that a place of a leaf's print side takes, over what it takes in the middle of the object seen straight on;
   * 0 where the eye does not see it. So weighed, a mean over places is one over the pixels of a picture.
   * @param x, y leaf's frame
   */
  of(index: number, x: number, y: number): number {
    const { leaf, eye } = this.#leaves[index]!
    if (eye[2] <= 0) return 0
    const place = inObject(leaf, x, y, 0)
    const [across, up, depth] = this.#inPicture(place)
    if (depth <= 0 || this.#hidden(index, place, across, up, depth)) return 0
    return (eye[2] * this.#distanceMm ** 2) / depth ** 3
  }

  #hidden(index: number, place: Vec3, across: number, up: number, depth: number): boolean {
    const ray = minus(place, this.#standing.eye)
    for (const [i, { leaf, eye, left, right, bottom, top, nearest }] of this.#leaves.entries()) {
      if (i === index || nearest >= depth) continue
      if (across < left || across > right || up < bottom || up > top) continue
      const hit = { ...noHit(), t: 1 - nearer }
      if (meet(leaf, eye, ...toPanel(leaf.turn, ray), hit)) return true
    }
    return false
  }

  #seen(leaf: Leaf): SeenLeaf {
    const box = { left: Infinity, right: -Infinity, bottom: Infinity, top: -Infinity, nearest: Infinity }
    for (const [x, y] of leaf.outline)
      for (const z of leaf.caliperMm > 0 ? [0, -leaf.caliperMm] : [0]) {
        const [across, up, depth] = this.#inPicture(inObject(leaf, x, y, z))
        box.nearest = Math.min(box.nearest, depth)
        box.left = Math.min(box.left, across)
        box.right = Math.max(box.right, across)
        box.bottom = Math.min(box.bottom, up)
        box.top = Math.max(box.top, up)
      }
    const { eye } = fromLeaf(this.#standing, leaf)
    if (box.nearest > this.#distanceMm / 100) return { leaf, eye, ...box }
    return { leaf, eye, left: -Infinity, right: Infinity, bottom: -Infinity, top: Infinity, nearest: 0 }
  }

  /** Across and up over depth, and depth: mm along the eye's axis. */
  #inPicture(place: Vec3): Vec3 {
    const [x, y, z] = toTable(this.#standing.view, place)
    const depth = this.#distanceMm - z
    return [x / depth, y / depth, depth]
  }
}

/** A leaf that touches the place does not hide it. */
const nearer = 1e-6
