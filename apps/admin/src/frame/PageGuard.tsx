import { Component, type ReactNode } from 'react';
import { PartMissing } from '../later';
import { Broken } from './Broken';

interface Props {
  /** The address: at another one it is tried anew. */
  at: string;
  /** Around the frame as well: where that broke, what is said stands alone. */
  alone?: boolean;
  children: ReactNode;
}

interface State {
  at: string;
  error: Error | null;
}

/** Says what broke or did not come in place of it, so that one can go on from there. */
export class PageGuard extends Component<Props, State> {
  override state: State = { at: this.props.at, error: null };
  static getDerivedStateFromError(error: Error): Partial<State> {
    return { error };
  }
  static getDerivedStateFromProps({ at }: Props, state: State): State | null {
    return at === state.at ? null : { at, error: null };
  }
  override componentDidCatch(error: Error): void {
    if (error instanceof PartMissing) error.forget();
  }
  override render(): ReactNode {
    const { error } = this.state;
    if (error === null) return this.props.children;
    const broken = <Broken error={error} again={() => this.setState({ error: null })} />;
    return this.props.alone ? <main className="frame__main">{broken}</main> : broken;
  }
}
