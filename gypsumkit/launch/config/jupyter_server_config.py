"""JupyterLab's settings for the course, read by its server at start."""
# `c` is the settings object that the server hands to this file.

c.LabApp.custom_css = True                    # custom/custom.css beside this file
c.LabApp.news_url = None                      # a lesson asks nothing of the network
c.LabApp.check_for_updates_class = "jupyterlab.NeverCheckForUpdate"
c.LabApp.extension_manager = "readonly"
c.ServerApp.terminals_enabled = False
c.LanguageServerManager.autodetect = False    # it would start other programs to look for helpers of programmers

# Send each message of a lesson to the browser at once. Without this, small messages wait for the one before to be
# confirmed, and a dragged slider moves its picture about half as often. The class is not a promised place to do so:
# where it has changed, the lessons run all the same, only slower.
try:
    from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection

    class PromptConnection(ZMQChannelsWebsocketConnection):
        """The usual connection between a lesson and its page, without the wait."""

        def connect(self):
            """Connect as usual, and send at once from then on."""
            try:
                self.websocket_handler.set_nodelay(True)
            except Exception as trouble:  # whatever it is, a slower lesson is better than none
                self.log.info("messages are not sent at once: %r", trouble)
            return super().connect()

    c.ServerApp.kernel_websocket_connection_class = PromptConnection
except ImportError:
    pass
