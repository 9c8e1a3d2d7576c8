import { expect, test } from 'vitest'
import { composite, compositeStrips } from '../../../core/art/composite.ts'
import type { ArtFile, Surface } from '../../../core/art/layer.ts'
import { justThese } from '../../../core/roles/members.ts'
import { paintedFile } from '../painted.ts'

/** A file that paints its layers itself and notes what it was asked. */
function selfPainting(): { readonly file: ArtFile; readonly asked: unknown[] } {
  const layers = [
    { name: 'a', parent: 'set', paint: () => [0, 0, 0, 1, 1] },
    { name: 'b', parent: 'set', visible: false, paint: () => [0, 0, 0, 1, 1] },
    { name: 'set', kind: 'group' as const },
    { name: 'c', paint: () => [0, 0, 0, 1, 1] },
  ]
  const asked: unknown[] = []
  const file: ArtFile = {
    ...paintedFile({ width: 4, height: 6, layers }),
    async paintLayers(shown, box, { colours }) {
      asked.push([[...shown], box.top, box.bottom, colours])
      const size = (box.right - box.left) * (box.bottom - box.top)
      return {
        box,
        planes: colours ? [0, 1, 2, 3].map(() => new Float32Array(size)) : [],
        alpha: new Float32Array(size).fill(0.5),
      }
    },
  }
  return { file, asked }
}

test('a file that paints its layers itself is asked for those that are shown, strip by strip', async () => {
  const { file, asked } = selfPainting()
  const strips: Surface[] = []
  for await (const strip of compositeStrips(file, { stripRows: 4, colours: false })) strips.push(strip)
  expect(strips.map(({ box }) => [box.top, box.bottom])).toEqual([
    [0, 4],
    [4, 6],
  ])
  expect(asked).toEqual([
    [['a', 'c'], 0, 4, false],
    [['a', 'c'], 4, 6, false],
  ])
})

test('chosen layers are shown even where the file hides them', async () => {
  const { file, asked } = selfPainting()
  const picture = await composite(
    file,
    justThese(
      file.art,
      file.art.layers.filter(one => one.id === 'b'),
    ),
  )
  expect(asked).toEqual([[['b'], 0, 6, true]])
  expect(picture.alpha[0]).toBe(0.5)
})
