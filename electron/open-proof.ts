import { basename } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { type OpenedProof, openPage } from '../core/proof/open-page.ts'
import { checkVersion } from '../core/proof/read-version.ts'
import type { ProofVersion } from '../core/proof/version.ts'
import { openFile } from './file-source.ts'

/** Longest page that is read, bytes: no proof is written longer. */
const longest = 512e6

/** A proof read from its file, with the version that it shows. */
export interface ProofFile extends OpenedProof {
  readonly version: ProofVersion
}

/** Rejects with BadInput for a file that is no proof, is of a newer rakelight, or whose version was changed. */
export async function openProof(path: string): Promise<ProofFile> {
  const file = await openFile(path)
  const name = basename(path)
  try {
    if (file.size > longest)
      throw new BadInput(
        'not-a-proof',
        name,
        'the file',
        `is longer than ${longest / 1e6} MB`,
        'Choose a file that ends in .proof.html',
      )
    const opened = openPage(new TextDecoder().decode(await file.read(0, file.size)), name)
    return { ...opened, version: checkVersion(opened.manifest.of, name) }
  } finally {
    await file.close()
  }
}

/** Whether a path is that of a proof by its name. */
export const isProofName = (path: string): boolean => /\.html?$/i.test(path)
