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
function picked(accept: string, several: boolean, folder = false): Promise<readonly File[]> {
  return new Promise(resolve => {
    const input = document.createElement('input')
    input.type = 'file'
    input.accept = accept
    input.multiple = several
    input.webkitdirectory = folder
    input.addEventListener('change', () => resolve([...(input.files ?? [])]))
    input.addEventListener('cancel', () => resolve([]))
    input.click()
  })
}

/** The pictures of a folder that the user picks; nothing when dismissed. */
async function pickedPlates(): Promise<readonly File[]> {
  const files = await picked('', true, true)
  if (files.length === 0) return []
  const { platesAmong } = await import('./plate-folder.ts')
  // Folders in it are left alone.
  const own = files.filter(file => file.webkitRelativePath.split('/').length === 2)
  return platesAmong(files[0]?.webkitRelativePath.split('/')[0] ?? '', own)
}

/** What was dropped; of a folder the pictures in it. To be called while the drop is heard: later its list is empty. */
export async function droppedFiles(dropped: DataTransfer): Promise<readonly File[]> {
  const files = [...dropped.files]
  const folders = [...dropped.items]
    .map(item => item.webkitGetAsEntry())
    .filter((entry): entry is FileSystemDirectoryEntry => entry?.isDirectory === true)
  if (folders.length === 0) return files
  const { platesOf } = await import('./plate-folder.ts')
  // A folder is among the files as well, as one that nobody can read.
  const others = files.filter(file => !folders.some(folder => folder.name === file.name))
  return [...others, ...(await Promise.all(folders.map(platesOf))).flat()]
}

/** File picking and downloading as a page can do it. */
export const pageFiles: PageFiles = {
  pick: async what => (await picked(accepted[what], false))[0] ?? null,
  pickArt: what => (what === 'plates' ? pickedPlates() : picked(accepted[what], true)),
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
