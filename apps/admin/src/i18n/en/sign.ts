/** Reading and signing. */
export default {
  sign: {
    title: 'Read and sign',
    not_now: 'There is nothing to sign here now',
    as: 'Sign as %{name}',
    change_done: 'Signed. The maker is asked to change the order.',
    done: 'Signed. The order can be placed now.',
    password: 'Your password, once more',
    password_hint: 'It makes this your signature.',
    why_over: 'Why you go on over this',
    over_stop: 'Over the stop %{code}: %{why}',
    hash: 'The signature binds to exactly this specification.',
    signatures: 'Signatures',
    valid: 'valid',
    void: 'void',
  },
};
