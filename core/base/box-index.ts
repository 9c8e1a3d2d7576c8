import Flatbush from 'flatbush'

/** Boxes that can be asked for by place. */
export interface BoxIndex {
  /** Numbers of the boxes that touch this one, in no order. */
  touching(left: number, bottom: number, right: number, top: number): readonly number[]
}

/** Four numbers a box: left, bottom, right, top. */
export function boxIndex(boxes: ArrayLike<number>): BoxIndex {
  const count = boxes.length / 4
  if (count === 0) return { touching: () => [] }
  const index = new Flatbush(count)
  for (let i = 0; i < boxes.length; i += 4) index.add(boxes[i]!, boxes[i + 1]!, boxes[i + 2]!, boxes[i + 3]!)
  index.finish()
  return { touching: (left, bottom, right, top) => index.search(left, bottom, right, top) }
}
