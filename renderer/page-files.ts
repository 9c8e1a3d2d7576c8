import type { PageFiles } from './state/open.ts'

const artEndings = '.psd,.psb,.pdf,.svg,.tif,.tiff,.png,.jpg,.jpeg'
const accepted = {
  art: artEndings,
  job: '.json',
  any: `${artEndings},.json`,
  profile: '.icc,.icm',
  notes: '.json',
} as const

/** A text model comes with the files it names. */
const acceptedAssets = { views: '.png', model: '.glb,.gltf,.bin', heights: '.png' } as const

/** What the user picks; nothing when dismissed. */
function picked(accept: string, several: boolean): Promise<readonly File[]> {
  return new Promise(resolve => {
    const input = document.createElement('input')
    input.type = 'file'
    input.accept = accept
    input.multiple = several
    input.addEventListener('change', () => resolve([...(input.files ?? [])]))
    input.addEventListener('cancel', () => resolve([]))
    input.click()
  })
}

/** File picking and downloading as a page can do it. */
export const pageFiles: PageFiles = {
  pick: async what => (await picked(accepted[what], false))[0] ?? null,
  pickArt: what => picked(accepted[what], true),
  pickAsset: kind => picked(acceptedAssets[kind], kind !== 'heights'),
  download(name, content) {
    const link = document.createElement('a')
    link.download = name
    link.href = URL.createObjectURL(
      typeof content === 'string' ? new Blob([content], { type: 'application/json' }) : content,
    )
    link.click()
    // The browser has taken the address over by the next task at the latest; a minute is generous.
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000)
  },
}
