"""The gate of the page: who may come in, how long a connection may idle, and what a visitor may send."""
