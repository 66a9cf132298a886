// The window's entry: connects to the host and puts the window on the page.
import './app/noCodeFromText.ts';
import { render } from 'preact';
import './app/tokens.css';
import './app/window.css';
import { makeActions } from './app/actions.ts';
import { Window } from './app/Window.tsx';
import { connect } from './bridge/connect.ts';
import { makeStore } from './state/store.ts';
import { initialState } from './state/windowState.ts';

const place = document.getElementById('window');
if (place !== null) {
  const bridge = connect(window);
  const store = makeStore(initialState);
  const actions = makeActions(store, bridge);
  render(<Window store={store} actions={actions} />, place);
  void actions.begin();
}
