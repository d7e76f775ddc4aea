import { Component, type ReactNode } from 'react';
import { PartMissing } from '../later';
import { Broken } from './Broken';

interface Props {
  /** Where the page is: at another address it is tried anew. */
  at: string;
  children: ReactNode;
}

interface State {
  at: string;
  error: Error | null;
}

/** Keeps the frame around a page that broke or whose code did not come, so that one can go on from there. */
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
    return <Broken error={error} again={() => this.setState({ error: null })} />;
  }
}
