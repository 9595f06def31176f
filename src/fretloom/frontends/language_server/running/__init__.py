"""What the server runs on: messages at their time, and the thread that works on lessons."""
